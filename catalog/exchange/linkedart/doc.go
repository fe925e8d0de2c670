// Package linkedart writes a catalogue as Linked Art 1.0, a profile of CIDOC
// CRM in JSON-LD: one document for each plate, impression, state image,
// edition, portfolio and person, and one that lists them all.
//
// Linked Art has no property for the state or the edition of a print. As its
// published mapping from CDWA advises, both are statements in referred_to_by;
// an edition is also a Set of which its impressions are members, and the
// plate is the object used in producing an impression.
package linkedart
