package write

import (
	"bytes"
	"compress/zlib"
	"crypto/md5"
	"fmt"

	"github.com/pdfcpu/pdfcpu/pkg/pdfcpu/types"
)

// File is the PDF being written.
type File struct {
	objects []object // object n is objects[n-1]
	waiting []waiting
	size    int64
	most    int64
}

// object is a value, or a stream where data is not nil.
type object struct {
	value string // of a stream: the entries of its dictionary
	data  []byte
}

// waiting is an object of a source that was referred to and not copied yet.
type waiting struct {
	from *Source
	ref  types.IndirectRef
	to   int
}

// NewFile begins a file that should not grow over most bytes: see Full.
func NewFile(most int64) *File { return &File{most: most} }

// Reserve gives a number to an object whose value comes later.
func (f *File) Reserve() int {
	f.objects = append(f.objects, object{value: "null"})
	return len(f.objects)
}

// Set gives a reserved object its value.
func (f *File) Set(n int, value string) {
	f.objects[n-1] = object{value: value}
	f.size += int64(len(value))
}

// Add adds an object and gives a reference to it.
func (f *File) Add(value string) string {
	n := f.Reserve()
	f.Set(n, value)
	return Reference(n)
}

// Stream adds a stream with the given entries beside its length, its data as they
// are, and gives a reference to it.
func (f *File) Stream(entries string, data []byte) string {
	n := f.Reserve()
	if data == nil {
		data = []byte{}
	}
	f.objects[n-1] = object{entries, data}
	f.size += int64(len(entries) + len(data))
	return Reference(n)
}

// Deflated adds a stream, compressed without loss (7.4.4).
func (f *File) Deflated(entries string, data []byte) string {
	var b bytes.Buffer
	z := zlib.NewWriter(&b)
	_, _ = z.Write(data) // writes to a buffer do not fail
	_ = z.Close()
	return f.Stream(entries+"/Filter/FlateDecode", b.Bytes())
}

// Full tells that the file must not grow on.
func (f *File) Full() bool { return f.size > f.most }

// Bytes closes the file. What was referred to in sources is copied first, as far as
// the file may grow. Trailer holds entries beside Size and ID, with a Root among them.
func (f *File) Bytes(trailer string) []byte {
	f.settle()
	var b bytes.Buffer
	b.Grow(int(f.size) + 64*len(f.objects) + 1024)
	b.WriteString("%PDF-1.7\n%\xe2\xe3\xcf\xd3\n") // high bytes: the file is binary (7.5.2)
	at := make([]int, len(f.objects))
	for i, o := range f.objects {
		at[i] = b.Len()
		if o.data == nil {
			fmt.Fprintf(&b, "%d 0 obj\n%s\nendobj\n", i+1, o.value)
			continue
		}
		fmt.Fprintf(&b, "%d 0 obj\n<<%s/Length %d>>stream\n", i+1, o.value, len(o.data))
		b.Write(o.data)
		b.WriteString("\nendstream\nendobj\n")
	}
	id := md5.Sum(b.Bytes()) // an identifier, no seal (14.4)
	start := b.Len()
	fmt.Fprintf(&b, "xref\n0 %d\n0000000000 65535 f \n", len(at)+1)
	for _, a := range at {
		fmt.Fprintf(&b, "%010d 00000 n \n", a)
	}
	fmt.Fprintf(&b, "trailer\n<</Size %d%s/ID[<%x><%x>]>>\nstartxref\n%d\n%%%%EOF\n", len(at)+1, trailer, id, id, start)
	return b.Bytes()
}
