package batch

import (
	"image/jpeg"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// againFrom saves a JPEG anew at another quality: the same sheet in a second
// file.
func againFrom(t *testing.T, path string) string {
	t.Helper()
	in, err := os.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	defer in.Close()
	img, err := jpeg.Decode(in)
	if err != nil {
		t.Fatal(err)
	}
	to := filepath.Join(t.TempDir(), "again.jpg")
	out, err := os.Create(to)
	if err != nil {
		t.Fatal(err)
	}
	defer out.Close()
	if err := jpeg.Encode(out, img, &jpeg.Options{Quality: 90}); err != nil {
		t.Fatal(err)
	}
	return to
}

// TestAgain asks of the shared photographs, whose truth says which pull each
// shows, whether two files show one sheet, and how well its scores repeat.
func TestAgain(t *testing.T) {
	dir := photos(t)
	if testing.Short() {
		t.Skip("measures seven photographs")
	}
	pull, other := filepath.Join(dir, "quay-pull-030.jpg"), filepath.Join(dir, "quay-pull-003.jpg")
	again := againFrom(t, pull)
	common := []string{"--plate-mm", "100x140", "--reference", filepath.Join(dir, "quay-reference.jpg"), "--json"}
	out, stderr, code := run(append(append([]string{"same"}, common...), pull, again, other)...)
	var doc struct {
		Pairs []struct {
			First, Second, Verdict, Reason string
			Probability                    float64
		}
	}
	oneJSON(t, out, &doc)
	if code != 0 || len(doc.Pairs) != 3 {
		t.Fatalf("%d: %s %s", code, out, stderr)
	}
	for i, want := range []string{"the same", "different", "different"} {
		p := doc.Pairs[i]
		if p.Verdict != want || (p.Probability > 0.5) != (want == "the same") || p.Reason == "" {
			t.Errorf("%s and %s: %+v", p.First, p.Second, p)
		}
	}

	out, stderr, code = run(append(append([]string{"repeat"}, common...), pull, again)...)
	var study struct {
		Scores []struct {
			Score string
			N     int     `json:"photographs"`
			SD    float64 `json:"sd"`
			Limit float64 `json:"repeatability_limit"`
			OverU float64 `json:"sd_over_u"`
			Mean  float64
		}
	}
	oneJSON(t, out, &study)
	if code != 0 || len(study.Scores) < 2 {
		t.Fatalf("%d: %s %s", code, out, stderr)
	}
	for _, s := range study.Scores {
		// A file saved anew must repeat within what is stated for it.
		if s.N != 2 || !(s.OverU < 1) || s.Limit < s.SD {
			t.Errorf("%+v", s)
		}
	}
}

// TestScoreRegions scores parts of the plate by themselves: two halves that make
// up the whole lie on either side of what the whole has lost.
func TestScoreRegions(t *testing.T) {
	dir := photos(t)
	out, stderr, code := run("score", "--plate-mm", "100x140", "--reference", filepath.Join(dir, "quay-reference.jpg"), "--json",
		"--region", "left=0,0,70,100", "--region", "right=70,0,140,0,140,100,70,100", "--region", "off=150,0,160,10", filepath.Join(dir, "quay-pull-030.jpg"))
	var doc struct {
		Impressions []struct {
			InkLoss struct{ Value, U float64 } `json:"ink_loss"`
			Regions []struct {
				Name    string
				InkLoss *struct{ Value, U float64 } `json:"ink_loss"`
				Reason  string
			}
		}
	}
	oneJSON(t, out, &doc)
	if code != 0 || len(doc.Impressions) != 1 || len(doc.Impressions[0].Regions) != 3 {
		t.Fatalf("%d %s %s", code, out, stderr)
	}
	whole, r := doc.Impressions[0].InkLoss, doc.Impressions[0].Regions
	if r[2].InkLoss != nil || r[2].Reason == "" {
		t.Errorf("off the plate: %+v", r[2])
	}
	if r[0].InkLoss == nil || r[1].InkLoss == nil {
		t.Fatalf("%+v", r)
	}
	lo, hi := min(r[0].InkLoss.Value, r[1].InkLoss.Value), max(r[0].InkLoss.Value, r[1].InkLoss.Value)
	if whole.Value < lo-0.002 || whole.Value > hi+0.002 || !(r[0].InkLoss.U >= whole.U) {
		t.Errorf("left %+v, right %+v, whole %+v", *r[0].InkLoss, *r[1].InkLoss, whole)
	}
}

func TestAgainUsage(t *testing.T) {
	for _, c := range []struct {
		args []string
		says string
	}{
		{[]string{"same"}, "plate's size is missing"},
		{[]string{"repeat", "--plate-mm", "100x140"}, "reference pull is missing"},
		{[]string{"same", "--plate-mm", "100x140", "--reference", "r.jpg", "a.jpg"}, "two photographs or more"},
	} {
		if _, stderr, code := run(c.args...); code != 2 || !strings.Contains(stderr, c.says) {
			t.Errorf("%v: %d %s", c.args, code, stderr)
		}
	}
	_, stderr, code := run("same", "--plate-mm", "100x140", "--reference", "nowhere.jpg", "a.jpg", "b.jpg")
	if code != 1 || !strings.Contains(stderr, "nowhere.jpg cannot be used") {
		t.Errorf("%d %s", code, stderr)
	}
}
