package batch

import (
	"flag"
	"fmt"

	"pullbook/app/studio"
	"pullbook/imaging"
)

var changesCommand = command{
	name:    "changes",
	line:    "--plate-mm HxW --before A.jpg --after B.jpg [--json]",
	summary: "find new and removed work between two states",
	run:     runChanges,
	help: `
Lays the later state on the earlier and lists the patches of new and of removed
work, as boxes in millimetres from the top-left corner of the plate mark, x to
the right and y down. Wear, inking and plate tone are not changes. Areas are
listed too where the texture changed but not stroke by stroke, and where work
cannot be seen: too crowded, out of the picture, or gone as wear takes it too.

    --plate-mm HxW   height x width of the plate mark, in millimetres
    --before FILE    photograph of the earlier state
    --after FILE     photograph of the later state
    --json           one JSON document instead of lines`,
}

// changesDocument is what changes --json writes. All lists are null, and the
// reason is given, when the photographs could not be compared.
type changesDocument struct {
	Added     []changeJSON `json:"added"`
	Removed   []changeJSON `json:"removed"`
	Texture   []changeJSON `json:"changed_texture"`
	CannotSee []changeJSON `json:"cannot_see"`
	Reason    string       `json:"reason,omitempty"`
}

// list is the list of a kind of change.
func (d *changesDocument) list(kind string) *[]changeJSON {
	switch kind {
	case imaging.Added:
		return &d.Added
	case imaging.Removed:
		return &d.Removed
	case imaging.ChangedTexture:
		return &d.Texture
	}
	return &d.CannotSee
}

var changeKinds = []string{imaging.Added, imaging.Removed, imaging.ChangedTexture, imaging.CannotSee}

type changeJSON struct {
	Box  [4]number `json:"box_mm"`
	Area number    `json:"area_mm2"`
	Sure number    `json:"sure,omitempty"` // not given of what cannot be seen
}

func runChanges(c *call) error {
	var size sizeFlag
	var before, after string
	var asJSON bool
	err := c.parse(func(f *flag.FlagSet) {
		f.Var(&size, "plate-mm", "")
		f.StringVar(&before, "before", "", "")
		f.StringVar(&after, "after", "", "")
		f.BoolVar(&asJSON, "json", false, "")
	})
	switch {
	case err != nil:
		return err
	case size.size == imaging.Size{}:
		return usage("the plate's size is missing; give --plate-mm HEIGHTxWIDTH in millimetres")
	case before == "" || after == "":
		return usage("two photographs are needed: --before and --after")
	case len(c.args) > 0:
		return usage("%q is one photograph too many; changes compares two", c.args[0])
	}
	found, reason, err := studio.CompareFiles(c.ctx, before, after, size.size)
	if err != nil {
		return err
	}
	doc := changesDocument{Reason: reason}
	for _, kind := range changeKinds {
		if reason == "" {
			*doc.list(kind) = []changeJSON{}
		}
	}
	for _, f := range found {
		j := changeJSON{Area: number(f.AreaMM2), Sure: number(f.Sure)}
		for i, v := range f.Box {
			j.Box[i] = number(v)
		}
		if f.Kind == imaging.CannotSee {
			j.Sure = 0
		}
		list := doc.list(f.Kind)
		*list = append(*list, j)
	}
	if reason != "" {
		c.note("refused: %s", reason)
	}
	return c.answer(&doc, asJSON, reason != "")
}

func (d *changesDocument) print(c *call) {
	switch {
	case d.Reason != "":
		return
	case len(d.Added)+len(d.Removed) == 0:
		c.say("no new or removed work found")
	}
	for _, kind := range changeKinds {
		for _, j := range *d.list(kind) {
			sure := ""
			if j.Sure > 0 {
				sure = fmt.Sprintf(", sure %.2f", j.Sure)
			}
			c.say("%-15s %.1f to %.1f mm across, %.1f to %.1f mm down, %.1f mm2%s", kind, j.Box[0], j.Box[2], j.Box[1], j.Box[3], j.Area, sure)
		}
	}
}
