package catalog

import (
	"reflect"
	"strings"
	"testing"
	"time"
)

// Every field of every noun and of its parts is in the dictionary once, and
// nothing else is.
func TestDictionaryIsComplete(t *testing.T) {
	terms := map[string]int{}
	for _, d := range Dictionary() {
		terms[d.Noun+"."+d.Field]++
		if d.Meaning == "" || d.Unit == "" || d.Standard == "" {
			t.Errorf("%s of %s lacks its meaning, unit or standard", d.Field, d.Noun)
		}
	}
	seen := map[reflect.Type]bool{}
	var walk func(noun string, typ reflect.Type)
	walk = func(noun string, typ reflect.Type) {
		if seen[typ] {
			return
		}
		seen[typ] = true
		for i := range typ.NumField() {
			f := typ.Field(i)
			name := noun + "." + f.Tag.Get("json")
			if terms[name] != 1 {
				t.Errorf("%s is in the dictionary %d times", name, terms[name])
			}
			delete(terms, name)
			part := f.Type
			for part.Kind() == reflect.Slice || part.Kind() == reflect.Pointer {
				part = part.Elem()
			}
			if part.Kind() == reflect.Struct && part != reflect.TypeFor[time.Time]() {
				walk(part.Name(), part)
			}
		}
	}
	for noun, v := range map[string]any{"plate": Plate{}, "state": State{}, "edition": Edition{}, "impression": Impression{},
		"printing day": PrintingDay{}, "photograph": Photograph{}, "shooting session": ShootingSession{}, "score": Score{}, "group": Group{},
		"person": Person{}, "holder": Holder{}, "paper": Paper{}, "ink": Ink{}, "press": Press{}, "literature": Literature{},
		"exhibition": Exhibition{}, "imprint": Imprint{}} {
		walk(noun, reflect.TypeOf(v))
	}
	for name := range terms {
		t.Errorf("%s is in the dictionary but not in the data", name)
	}
}

// Where the dictionary lists the words a field may hold, the words of the
// program are among them.
func TestDictionaryKnowsTheWords(t *testing.T) {
	words := map[string]string{}
	for _, d := range Dictionary() {
		words[d.Noun+"."+d.Field] = "|" + d.Unit + "|"
	}
	for field, values := range map[string][]string{
		"impression.kind": {string(KindTrial), string(KindState), string(KindBAT), string(KindNumbered), string(KindArtist), string(KindPrinter), string(KindHorsCommerce), string(KindCancellation), string(KindUnnumbered)},
		"plate.standing":  {string(Accepted), string(Doubtful), string(Rejected)},
		"plate.fate":      {string(FateKept), string(FateCancelled), string(FateDestroyed), string(FateLost), string(FateUnknown)},
		"photograph.view": {string(ViewWhole), string(ViewDetail), string(ViewRaking), string(ViewTransmitted), string(ViewBlank), string(ViewWedge)},
		"Work.kind":       {string(WorkBite), string(WorkBurin), string(WorkDrypoint), string(WorkBurnish), string(WorkScrape), string(WorkAquatint), string(WorkSteelFace), string(WorkRecut), string(WorkClean)},
	} {
		for _, v := range values {
			if !strings.Contains(words[field], "|"+v+"|") {
				t.Errorf("%s: the dictionary does not list %q", field, v)
			}
		}
	}
}
