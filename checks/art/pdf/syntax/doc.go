// Package syntax is the lowest layer of a PDF: the tokens of its content and the
// objects of its file, read without trust. Package pdf stands on it, and so does
// code that rewrites content. Clause numbers are those of ISO 32000-1:2008.
package syntax
