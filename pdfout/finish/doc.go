// Package finish turns the PDF that gofpdf writes into the PDF we want, in one
// pass and without holding pictures in memory. It
//
//   - puts real picture files where gofpdf was given stubs, copied byte for byte
//     from disk, with their colour profiles;
//   - gives fonts their own names with subset tags, and the map from glyphs to
//     text that makes ligatures and small capitals searchable;
//   - gives every page its own resources, and page boxes in a fixed order;
//   - adds metadata (XMP), output intent, page labels, language and file
//     identifier, as PDF/A-2b (ISO 19005-2) or PDF/X-4 (ISO 15930-7) ask;
//   - writes the same bytes for the same document, whenever it runs.
//
// It knows the plain shape of gofpdf 1.16.2's output (classic cross-reference
// table, no object streams, uncompressed pages) and refuses anything else.
package finish
