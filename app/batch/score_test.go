package batch

import "testing"

// TestNotTold: of the values that are null the reasons are given, of others not.
func TestNotTold(t *testing.T) {
	why := map[string]string{"burr_loss": "no burr", "wear_loss": "no fine lines", "plate_tone": "no margin"}
	got := notTold(&impressionJSON{PlateTone: &value{}}, why)
	if len(got) != 1 || got["burr_loss"] != "no burr" {
		t.Errorf("told why of %v", got)
	}
}
