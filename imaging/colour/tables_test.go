package colour

import (
	"encoding/csv"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
)

// table reads a check table of testdata; its source stands in SOURCES.md.
func table(t *testing.T, name string) []map[string]string {
	t.Helper()
	f, err := os.Open(filepath.Join("testdata", name))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	var out []map[string]string
	for _, r := range rows[1:] {
		m := map[string]string{}
		for i, k := range rows[0] {
			m[k] = r[i]
		}
		out = append(out, m)
	}
	if len(out) < 3 {
		t.Fatalf("%s has only %d rows", name, len(out))
	}
	return out
}

func num(t *testing.T, row map[string]string, key string) float64 {
	t.Helper()
	s, ok := row[key]
	if !ok {
		t.Fatalf("no column %q in %v", key, row)
	}
	v, err := strconv.ParseFloat(s, 64)
	if err != nil {
		t.Fatalf("%s: %v", key, err)
	}
	return v
}

func near(t *testing.T, what string, got, want, within float64) {
	t.Helper()
	if got == want { // infinities
		return
	}
	if !(math.Abs(got-want) <= within) {
		t.Errorf("%s: %.9g, want %.9g within %g", what, got, want, within)
	}
}

// TestCIEDE2000 checks the 34 pairs of Sharma, Wu and Dalal 2005, table 1.
func TestCIEDE2000(t *testing.T) {
	rows := table(t, "ciede2000.csv")
	if len(rows) != 34 {
		t.Fatalf("%d pairs, want 34", len(rows))
	}
	for _, r := range rows {
		p := Lab{num(t, r, "L1"), num(t, r, "a1"), num(t, r, "b1")}
		q := Lab{num(t, r, "L2"), num(t, r, "a2"), num(t, r, "b2")}
		near(t, "pair "+r["pair"], Difference(p, q), num(t, r, "dE00_expected"), 5e-5)
		near(t, "pair "+r["pair"]+" swapped", Difference(q, p), Difference(p, q), 1e-9)
		near(t, "pair "+r["pair"]+" with itself", Difference(p, p), 0, 0)
	}
	near(t, "black and white", Difference(Lab{}, Lab{L: 100}), 100, 1e-9)
}

// TestSRGBCurve checks IEC 61966-2-1 code by code and there and back.
func TestSRGBCurve(t *testing.T) {
	for _, r := range table(t, "srgb_grey_checks.csv") {
		lin := DecodeSRGB(num(t, r, "code8") / 255)
		near(t, "linear of "+r["code8"], lin, num(t, r, "linear"), 1e-8)
		near(t, "L* of "+r["code8"], ToLab(Vector{lin, lin, lin}, Vector{1, 1, 1}).L, num(t, r, "Lstar_D65"), 1e-5)
		if want := r["density_minus_log10_linear"]; want != "inf" {
			near(t, "density of "+r["code8"], Density(lin), num(t, r, "density_minus_log10_linear"), 1e-6)
		}
	}
	for c := range 256 {
		if back := math.Round(255 * EncodeSRGB(DecodeSRGB(float64(c)/255))); back != float64(c) {
			t.Errorf("code %d comes back as %v", c, back)
		}
	}
}

// TestLab checks XYZ and Lab under D65 and D50 (ISO/CIE 11664-4, Bradford).
func TestLab(t *testing.T) {
	for _, r := range table(t, "srgb_lab_checks.csv") {
		code := Vector{num(t, r, "R") / 255, num(t, r, "G") / 255, num(t, r, "B") / 255}
		lin := Vector{DecodeSRGB(code[0]), DecodeSRGB(code[1]), DecodeSRGB(code[2])}
		xyz := SRGB.ToXYZ().Apply(lin)
		near(t, r["name"]+" X", xyz[0], num(t, r, "X_D65"), 1e-7)
		near(t, r["name"]+" Z", xyz[2], num(t, r, "Z_D65"), 1e-7)
		lab := ToLab(xyz, D65.XYZ())
		near(t, r["name"]+" L D65", lab.L, num(t, r, "L_D65"), 1e-3)
		near(t, r["name"]+" a D65", lab.A, num(t, r, "a_D65"), 1e-3)
		near(t, r["name"]+" b D65", lab.B, num(t, r, "b_D65"), 1e-3)
		lab = SRGB.LabD50(code)
		near(t, r["name"]+" L D50", lab.L, num(t, r, "L_D50"), 1e-3)
		near(t, r["name"]+" a D50", lab.A, num(t, r, "a_D50"), 1e-3)
		near(t, r["name"]+" b D50", lab.B, num(t, r, "b_D50"), 1e-3)
	}
}

// spaces by the names of the tables.
var spaces = map[string]Space{"sRGB": SRGB, "AdobeRGB1998": AdobeRGB, "DisplayP3": DisplayP3}

// TestSpaces checks the matrices of the working spaces, unadapted and to D50.
func TestSpaces(t *testing.T) {
	for _, r := range table(t, "icc_spaces.csv") {
		s, ok := spaces[r["space"]]
		if !ok {
			t.Fatalf("unknown space %q", r["space"])
		}
		m := s.ToXYZ()
		if strings.HasPrefix(r["adapted"], "Bradford") {
			m = s.ToD50()
		}
		for i := range m {
			for j := range m[i] {
				key := "m" + strconv.Itoa(i) + strconv.Itoa(j)
				near(t, r["space"]+" "+r["adapted"]+" "+key, m[i][j], num(t, r, key), 1e-8)
			}
		}
	}
}

// TestConversions carries colours of each space to sRGB and to Lab, and shows
// what reading them as sRGB would have cost.
func TestConversions(t *testing.T) {
	for _, r := range table(t, "space_conversion_checks.csv") {
		s := spaces[r["src_space"]]
		code := Vector{num(t, r, "R8") / 255, num(t, r, "G8") / 255, num(t, r, "B8") / 255}
		lin := Vector{s.Decode(code[0]), s.Decode(code[1]), s.Decode(code[2])}
		what := r["src_space"] + " " + r["R8"] + "," + r["G8"] + "," + r["B8"]
		near(t, what+" Y", s.ToXYZ().Apply(lin)[1], num(t, r, "Y"), 1e-7)
		out := s.ToSRGB().Apply(lin)
		near(t, what+" R", 255*EncodeSRGB(out[0]), num(t, r, "sRGB_R_float255"), 1e-3)
		near(t, what+" G", 255*EncodeSRGB(out[1]), num(t, r, "sRGB_G_float255"), 1e-3)
		near(t, what+" B", 255*EncodeSRGB(out[2]), num(t, r, "sRGB_B_float255"), 1e-3)
		lab := s.LabD50(code)
		near(t, what+" L", lab.L, num(t, r, "L_D50"), 1e-3)
		near(t, what+" a", lab.A, num(t, r, "a_D50"), 1e-3)
		near(t, what+" b", lab.B, num(t, r, "b_D50"), 1e-3)
		near(t, what+" ignored", Difference(lab, SRGB.LabD50(code)), num(t, r, "wrong_if_profile_ignored_dE00"), 1e-3)
	}
}

// TestDensity checks density (ISO 5) and its way back.
func TestDensity(t *testing.T) {
	for _, r := range table(t, "density_checks.csv") {
		f := num(t, r, "reflectance_factor")
		near(t, "density of "+r["reflectance_factor"], Density(f), num(t, r, "density"), 1e-6)
		near(t, "back from "+r["density"], Reflectance(Density(f)), f, 1e-12)
	}
}

// TestDotArea checks the worked examples of Murray and Davies's formula, whose
// densities stand in the text of the input column.
func TestDotArea(t *testing.T) {
	done := 0
	for _, r := range table(t, "ink_tone_worked.csv") {
		if r["topic"] != "Murray-Davies area" {
			continue
		}
		f := strings.Fields(r["input"])
		if len(f) != 6 || f[0] != "Dp" || f[2] != "Ds" || f[4] != "Dt" {
			continue
		}
		var v [3]float64
		for i := range v {
			var err error
			if v[i], err = strconv.ParseFloat(f[2*i+1], 64); err != nil {
				t.Fatal(err)
			}
		}
		near(t, "area "+r["input"], DotArea(v[2], v[0], v[1]), num(t, r, "value"), 1e-6)
		done++
	}
	if done < 3 {
		t.Errorf("only %d worked areas", done)
	}
	if !math.IsNaN(DotArea(0.3, 0.5, 0.5)) {
		t.Error("a solid no darker than the paper has an area")
	}
}
