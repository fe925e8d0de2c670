package finish

import (
	"bytes"
	"encoding/binary"
	"math"
	"strings"
	"testing"
	"time"
)

// tagOf returns the data of a tag of a profile.
func tagOf(t *testing.T, icc []byte, sig string) []byte {
	t.Helper()
	for i := range int(binary.BigEndian.Uint32(icc[128:])) {
		e := icc[132+12*i:]
		if string(e[:4]) == sig {
			at, n := binary.BigEndian.Uint32(e[4:]), binary.BigEndian.Uint32(e[8:])
			return icc[at : at+n]
		}
	}
	t.Fatalf("the profile has no tag %s", sig)
	return nil
}

// TestSRGBProfile compares the colorants with the matrix of W3C CSS Color
// Module Level 4 for linear sRGB to XYZ D50 (Bradford), and the curve with IEC
// 61966-2-1 at points published with it: code 0.5 is 0.2140 linear, code
// 0.04045 is 0.0031308.
func TestSRGBProfile(t *testing.T) {
	icc := SRGB()
	if err := CheckProfile(icc, true); err != nil {
		t.Fatal(err)
	}
	want := map[string][3]float64{
		"rXYZ": {0.4360657469, 0.2224931771, 0.0139239215},
		"gXYZ": {0.3851515096, 0.7168870131, 0.0970813242},
		"bXYZ": {0.1430784200, 0.0606198098, 0.7140993568},
	}
	var white [3]float64
	for sig, w := range want {
		tag := tagOf(t, icc, sig)
		for k := range 3 {
			got := float64(int32(binary.BigEndian.Uint32(tag[8+4*k:]))) / 65536
			white[k] += got
			if math.Abs(got-w[k]) > 3e-4 {
				t.Errorf("%s[%d] is %.5f, want %.5f", sig, k, got, w[k])
			}
		}
	}
	for k, w := range [3]float64{.9642, 1, .8249} {
		if math.Abs(white[k]-w) > 1e-4 {
			t.Errorf("the colorants sum to %.5f, D50 is %.4f", white[k], w)
		}
	}
	curve := tagOf(t, icc, "gTRC")
	n := int(binary.BigEndian.Uint32(curve[8:]))
	at := func(v float64) float64 {
		p := v * float64(n-1)
		i := int(p)
		a := float64(binary.BigEndian.Uint16(curve[12+2*i:])) / 65535
		b := float64(binary.BigEndian.Uint16(curve[12+2*min(i+1, n-1):])) / 65535
		return a + (b-a)*(p-float64(i))
	}
	for v, w := range map[float64]float64{0: 0, 1: 1, .5: .214041, .04045: .0031308} {
		if math.Abs(at(v)-w) > 2e-5 {
			t.Errorf("code %.5f is %.6f linear, want %.6f", v, at(v), w)
		}
	}
}

func TestCheckProfile(t *testing.T) {
	if CheckProfile([]byte("no profile"), true) == nil {
		t.Error("any bytes are taken for a profile")
	}
	if err := CheckProfile(SRGB(), false); err == nil || !strings.Contains(err.Error(), "printer") {
		t.Errorf("sRGB is taken for a printer’s profile: %v", err)
	}
}

func TestReferencesAreRenumberedOutsideStrings(t *testing.T) {
	in := "<</A 3 0 R /B [12 0 R 4 5] /C (see 3 0 R \\) 3 0 R) /D 0.3 0 R>>"
	got := string(eachReference([]byte(in), func(n int) int { return n + 100 }))
	want := "<</A 103 0 R /B [112 0 R 4 5] /C (see 3 0 R \\) 3 0 R) /D 0.3 0 R>>"
	if got != want {
		t.Errorf("got  %s\nwant %s", got, want)
	}
}

func TestParseRefusesWhatItDoesNotKnow(t *testing.T) {
	for name, src := range map[string]string{
		"empty": "", "no table": "%PDF-1.3\nhello", "bad offset": "xref\n0 2\n0000000000 65535 f \n9999999999 00000 n \ntrailer\n<<>>\nstartxref\n0\n%%EOF",
	} {
		if _, err := parse([]byte(src)); err == nil {
			t.Errorf("%s: no error", name)
		}
	}
}

func TestTextStrings(t *testing.T) {
	for in, want := range map[string]string{"Ebb": "(Ebb)", "a(b": "<feff006100280062>", "ř": "<feff0159>", "🛶": "<feffd83ddef6>"} {
		if got := textString(in); got != want {
			t.Errorf("%q is written %s, want %s", in, got, want)
		}
	}
}

func TestMetadataIsEscaped(t *testing.T) {
	m := metadata(Options{Title: "A & B <c> \x01\ufffe", Language: "en", Archive: true, Created: time.Unix(0, 0)})
	if !bytes.Contains(m, []byte("A &amp; B &lt;c&gt; </rdf:li>")) {
		t.Errorf("title written as %s", m)
	}
}
