package fonts

import (
	"crypto/sha256"
	"encoding/hex"
	"os"
	"regexp"
	"strings"
	"testing"
)

// TestFilesAreAsRecorded compares every embedded font with the SHA-256 that
// README.md records from the packages the files were taken from.
func TestFilesAreAsRecorded(t *testing.T) {
	readme, err := os.ReadFile("README.md")
	if err != nil {
		t.Fatal(err)
	}
	recorded := map[string]string{}
	for _, m := range regexp.MustCompile(`(?m)^\s+([0-9a-f]{64})\s+(\S+\.ttf)$`).FindAllStringSubmatch(string(readme), -1) {
		recorded[m[2]] = m[1]
	}
	have := map[string][]byte{
		"ebgaramond/EBGaramond-Regular.ttf": BookRegular, "ebgaramond/EBGaramond-Italic.ttf": BookItalic,
		"ebgaramond/EBGaramond-Medium.ttf": BookMedium, "ebgaramond/EBGaramond-SemiBold.ttf": BookSemiBold,
		"liberation/LiberationSerif-Regular.ttf": FallbackRegular, "liberation/LiberationSerif-Italic.ttf": FallbackItalic,
		"lato/Lato-Regular.ttf": UIRegular, "lato/Lato-Bold.ttf": UIBold, "lato/Lato-Italic.ttf": UIItalic,
	}
	if len(recorded) != len(have) {
		t.Errorf("README.md records %d fonts, the package carries %d", len(recorded), len(have))
	}
	for name, data := range have {
		sum := sha256.Sum256(data)
		if got := hex.EncodeToString(sum[:]); got != recorded[name] {
			t.Errorf("%s has SHA-256 %s, README.md says %q", name, got, recorded[name])
		}
	}
}

func TestLicencesAccompanyTheFonts(t *testing.T) {
	for owner, text := range map[string]string{"EB Garamond Project": BookLicence, "Red Hat": FallbackLicence, "tyPoland": UILicence} {
		if !strings.Contains(text, owner) || !strings.Contains(text, "SIL OPEN FONT LICENSE Version 1.1") {
			t.Errorf("the licence of %s lacks its copyright line or the licence text", owner)
		}
	}
}
