// Package cells reads and writes tables of text cells: comma-separated files
// (RFC 4180) and the sheets of a spreadsheet workbook.
//
// The standard library's CSV reader turns CR LF within a quoted cell into LF.
// Museum records hold such line ends, and a text taken in must come out as it
// was, so the reader here keeps every byte of a cell.
package cells
