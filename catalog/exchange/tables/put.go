package tables

import "pullbook/catalog"

// Putter takes records into a catalogue; a store's transaction is one. Within
// one transaction records may point to others that follow.
type Putter interface {
	PutImprint(*catalog.Imprint) error
	PutPerson(*catalog.Person) error
	PutHolder(*catalog.Holder) error
	PutPaper(*catalog.Paper) error
	PutInk(*catalog.Ink) error
	PutPress(*catalog.Press) error
	PutLiterature(*catalog.Literature) error
	PutExhibition(*catalog.Exhibition) error
	PutGroup(*catalog.Group) error
	PutPlate(*catalog.Plate) error
	PutState(*catalog.State) error
	PutEdition(*catalog.Edition) error
	PutDay(*catalog.PrintingDay) error
	PutImpression(*catalog.Impression) error
	PutSession(*catalog.ShootingSession) error
	PutPhotograph(*catalog.Photograph) error
	PutScore(*catalog.Score) error
}

// Put takes every record of a snapshot into a catalogue, identifiers kept. An
// imprint without an identifier is left out. The first error ends it; the
// caller's transaction is then to be undone.
func Put(to Putter, snap *catalog.Snapshot) error {
	if snap.Imprint.ID != "" {
		imprint := snap.Imprint
		if err := to.PutImprint(&imprint); err != nil {
			return err
		}
	}
	for _, step := range []func() error{
		each(snap.People, to.PutPerson), each(snap.Holders, to.PutHolder), each(snap.Papers, to.PutPaper),
		each(snap.Inks, to.PutInk), each(snap.Presses, to.PutPress), each(snap.Literature, to.PutLiterature),
		each(snap.Exhibitions, to.PutExhibition), each(snap.Groups, to.PutGroup), each(snap.Plates, to.PutPlate),
		each(snap.States, to.PutState), each(snap.Editions, to.PutEdition), each(snap.Days, to.PutDay),
		each(snap.Impressions, to.PutImpression), each(snap.Sessions, to.PutSession),
		each(snap.Photographs, to.PutPhotograph), each(snap.Scores, to.PutScore),
	} {
		if err := step(); err != nil {
			return err
		}
	}
	return nil
}

// each makes the step that puts copies of records, since a snapshot is not to
// be altered.
func each[T any](records []T, put func(*T) error) func() error {
	return func() error {
		for _, r := range records {
			if err := put(&r); err != nil {
				return err
			}
		}
		return nil
	}
}
