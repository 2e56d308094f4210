// Package apart judges files in child processes of the same program, so that a
// hostile or a huge file can slow or crash its judge alone.
//
//	pool := apart.Start(apart.Options{})
//	defer pool.Close()
//	report := pool.Judge(judge)(ctx, "card.pdf") // as judge.File, but apart
//
// The parent keeps the deadline and a ceiling of memory, whatever the child is
// busy with, and ends the child that breaks either. The file is then reported
// like any other, as failing file-opens with the cause, and the next file gets a
// fresh child. Children that do well are kept: starting the renderer costs more
// than judging a card.
//
// A child is the program itself, run with the word [Command], which calls [Serve].
// What is asked and answered crosses its standard input and output in frames: a
// length, and that many bytes of CBOR (RFC 8949). JSON would not do: names of
// files and texts out of files need not be UTF-8, and measured numbers need not
// be finite. A child ends when its input does, and on Linux by the kernel's hand
// when its parent dies.
package apart
