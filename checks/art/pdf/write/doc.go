// Package write makes a small PDF: objects in the order in which they were added, a
// classic cross-reference table, and what is taken over from other PDFs, copied with
// all it refers to. The same objects give the same bytes.
//
// It knows pages and objects no better than its caller: values are PDF text.
//
// Clause numbers in comments are those of ISO 32000-1:2008.
package write
