// Command makesample makes the sample catalogue anew: it draws and photographs
// the invented plates, writes the catalogue with the program's own means,
// measures every impression against its reference pull, compares the states
// and keeps the result in assets/sample, where the program carries it.
//
//	go run -tags sqlite_fts5 ./app/studio/makesample
//
// With -measure the photographs stay as they are and are only measured and
// compared again: what is wanted when the measuring has changed.
package main

import (
	"context"
	"encoding/json"
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"time"

	"pullbook/app/studio"
	"pullbook/assets/sample"
	"pullbook/catalog"
)

const into = "assets/sample"

func main() {
	measureOnly := flag.Bool("measure", false, "measure the photographs that are there")
	flag.Parse()
	if err := makeSample(context.Background(), *measureOnly); err != nil {
		fmt.Fprintln(os.Stderr, "makesample:", err)
		os.Exit(1)
	}
}

func makeSample(ctx context.Context, measureOnly bool) error {
	take := assemble
	if measureOnly {
		take = unmeasured
	}
	snap, files, err := take()
	if err != nil {
		return err
	}
	dir, err := os.MkdirTemp("", "sample-*")
	if err != nil {
		return err
	}
	defer os.RemoveAll(dir)
	s, err := studio.WriteSnapshot(ctx, filepath.Join(dir, "sample.pullbook"), snap, files, studio.Options{Now: clock()}, nil)
	if err != nil {
		return err
	}
	defer s.Close()
	if err := measure(ctx, s); err != nil {
		return err
	}
	done, err := s.Store().Snapshot(ctx)
	if err != nil {
		return err
	}
	steady(done)
	return keepSample(done, files)
}

// clock gives the fixed time of measuring.
func clock() func() time.Time {
	now := at("2025-01-21 10:00")
	return func() time.Time { return now }
}

// assemble puts the snapshot together and renders the photographs, by name.
func assemble() (*catalog.Snapshot, map[string][]byte, error) {
	snap := world()
	files := map[string][]byte{}
	snap.Sessions = []catalog.ShootingSession{{ID: id("copy stand"), Began: at("2025-01-20 09:00"), Camera: "the press's copy camera", Lamps: "two lamps at 45 degrees", Note: "Sheets under glass bars at the edges only."}}
	for _, w := range works() {
		p := w.drawn()
		w.plate.ID, w.plate.MakerID, w.plate.Mark = id(w.key), id("thornquay"), w.markSize()
		if w.plate.Standing == "" {
			w.plate.Standing = catalog.Accepted
		}
		snap.Plates = append(snap.Plates, w.plate)
		for n := range w.states {
			w.states[n].ID, w.states[n].PlateID, w.states[n].N = w.stateID(n+1), id(w.key), n+1
		}
		for n := range w.editions {
			w.editions[n].PlateID, w.editions[n].StateID = id(w.key), w.stateID(len(w.states))
		}
		for k := range w.sheets {
			s := &w.sheets[k]
			photo, data, err := w.photograph(p, s)
			if err != nil {
				return nil, nil, err
			}
			fmt.Printf("%s: %d kB\n", photo.Name, len(data)/1024)
			files[photo.Name] = data
			snap.Photographs = append(snap.Photographs, photo)
			snap.Impressions = append(snap.Impressions, w.impression(s))
			if s.reference {
				w.states[s.state-1].ReferenceID, w.states[s.state-1].ReferencePhotoID = w.sheetID(s), photo.ID
			}
		}
		snap.States = append(snap.States, w.states...)
		snap.Editions = append(snap.Editions, w.editions...)
		snap.Days = append(snap.Days, w.days()...)
	}
	return &snap, files, nil
}

// unmeasured is the sample as it is carried now, without what was measured.
func unmeasured() (*catalog.Snapshot, map[string][]byte, error) {
	var snap catalog.Snapshot
	if err := json.Unmarshal(sample.Catalogue, &snap); err != nil {
		return nil, nil, err
	}
	files := map[string][]byte{}
	for i := range snap.Photographs {
		p := &snap.Photographs[i]
		p.Mark, p.MarkBy, p.MarkSure, p.Quality = [4][2]float64{}, "", 0, ""
		b, err := sample.Photographs.ReadFile("photographs/" + p.Name)
		if err != nil {
			return nil, nil, err
		}
		files[p.Name] = b
	}
	for i := range snap.States {
		snap.States[i].Changes = nil
	}
	snap.Scores = nil
	return &snap, files, nil
}

// measure scores everything and compares the states; what is found is taken as
// ruled on.
func measure(ctx context.Context, s *studio.Studio) error {
	todo, err := s.Unscored(ctx, "")
	if err != nil {
		return err
	}
	scored, err := s.Measure(ctx, todo, nil)
	if err != nil {
		return err
	}
	for _, r := range scored {
		if r.Err != nil {
			return r.Err
		}
		if r.Score.InkLoss == nil {
			fmt.Println("not measured:", r.Score.Reason)
		}
	}
	return compare(ctx, s)
}

// compare finds the work that made each state; it is taken as looked at and
// accepted.
func compare(ctx context.Context, s *studio.Studio) error {
	snap, err := s.Store().Snapshot(ctx)
	if err != nil {
		return err
	}
	for i := range snap.States {
		if snap.States[i].N == 1 {
			continue
		}
		found, err := s.Compare(ctx, snap.States[i].ID, nil)
		if err != nil {
			return err
		}
		st, err := s.Store().State(ctx, snap.States[i].ID)
		if err != nil {
			return err
		}
		for k := range st.Changes {
			if st.Changes[k].Kind == "added" || st.Changes[k].Kind == "removed" {
				st.Changes[k].Ruling = "accepted"
			}
			fmt.Println(st.Name(), st.Changes[k].Words)
		}
		if err := s.Save(ctx, "Accept what was found", st); err != nil {
			return err
		}
		if len(found) == 0 {
			fmt.Println("nothing found in", st.Name(), "of", st.PlateID)
		}
	}
	return nil
}

// steady gives the records made on the way names that are the same on every
// run.
func steady(snap *catalog.Snapshot) {
	for i := range snap.Scores {
		snap.Scores[i].ID = id("score of " + string(snap.Scores[i].ImpressionID))
	}
}

// keepSample writes assets/sample.
func keepSample(snap *catalog.Snapshot, files map[string][]byte) error {
	old, err := filepath.Glob(filepath.Join(into, "photographs", "*.jpg"))
	if err != nil {
		return err
	}
	for _, f := range old {
		if err := os.Remove(f); err != nil {
			return err
		}
	}
	total := 0
	for name, data := range files {
		total += len(data)
		if err := os.WriteFile(filepath.Join(into, "photographs", name), data, 0o644); err != nil {
			return err
		}
	}
	b, err := json.MarshalIndent(snap, "", " ")
	if err != nil {
		return err
	}
	fmt.Printf("%d plates, %d states, %d impressions, %d editions, %d scores, %d kB of photographs, %d kB of text\n",
		len(snap.Plates), len(snap.States), len(snap.Impressions), len(snap.Editions), len(snap.Scores), total/1024, len(b)/1024)
	return os.WriteFile(filepath.Join(into, "catalogue.json"), []byte(strings.TrimSpace(string(b))+"\n"), 0o644)
}
