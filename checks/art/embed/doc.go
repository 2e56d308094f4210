// Package embed puts pictures of opened art into PDFs as they are: no sample is changed.
//
// Clause numbers in comments are those of ISO 32000-1:2008.
package embed
