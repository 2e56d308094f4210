package art

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"time"

	"stoneproof/checks/art/pdf"
	"stoneproof/checks/art/raster"
	"stoneproof/rules"
)

// Fault is why artwork cannot be opened, or not trusted: What is wrong, in
// plain words, and what to Do about it.
type Fault struct{ What, Do string }

func (f *Fault) Error() string { return f.What }

// ExportAgain is the remedy for a file that is damaged.
const ExportAgain = "Export it again from the program that made it, and check the new file."

// Unbearable is the fault of a file over which its reader panicked with v.
func Unbearable(v any) *Fault {
	return &Fault{fmt.Sprintf("The file is damaged in a way that its reader could not bear (%v)", v), ExportAgain}
}

// Overdue is why a file is unjudged that takes longer than its deadline.
func Overdue(deadline time.Duration) *Fault {
	return &Fault{
		What: fmt.Sprintf("The file could not be judged within %s: it asks for far more work than a card should", deadline),
		Do:   "Flatten or simplify the artwork, or export it again as a picture at 300 ppi.",
	}
}

// Interrupted is why a file is unjudged where the run ended before.
func Interrupted() *Fault {
	return &Fault{What: "The run was stopped before the file was judged", Do: "Check it again."}
}

// Finding is the fault as file-opens tells it.
func (f *Fault) Finding() rules.Finding {
	return rules.Finding{Rule: "file-opens", Verdict: rules.Fail, Basis: rules.Read, Message: strings.TrimSuffix(f.What, ".") + ".", Fix: f.Do}
}

// AsFault is the fault that an error of Open tells.
func AsFault(err error) *Fault {
	var f *Fault
	if !errors.As(err, &f) {
		f = &Fault{What: err.Error()}
	}
	return f
}

// faultOf puts a reader's error into words for the maker.
func faultOf(kind string, err error) *Fault {
	var f *Fault
	if errors.As(err, &f) {
		return f
	}
	what := firstUpper(err.Error())
	switch {
	case errors.Is(err, pdf.ErrLocked):
		return &Fault{what, "Export it again without a password or permissions: a print shop cannot open it either."}
	case errors.Is(err, pdf.ErrTooLarge), errors.Is(err, raster.ErrTooLarge):
		return &Fault{what, "Export it at the size of the card: 300 ppi at printed size is enough."}
	case errors.Is(err, raster.ErrUnsupported):
		return &Fault{what, "Export it as PDF, PNG, TIFF or ordinary JPEG."}
	}
	return &Fault{what, ExportAgain}
}

// faultOfFile tells why the file system would not give the file.
func faultOfFile(err error) *Fault {
	switch {
	case errors.Is(err, fs.ErrPermission):
		return &Fault{"The file may not be read: permission denied", "Give yourself the right to read it, and check again."}
	case errors.Is(err, fs.ErrNotExist) && isLink(err):
		return &Fault{"This is a link, and what it points to is not there", "Put the artwork itself in its place."}
	case errors.Is(err, fs.ErrNotExist):
		return &Fault{"The file is gone", "Look whether it was moved or renamed while it was checked."}
	}
	return &Fault{"The file cannot be read: " + plainCause(err), "Copy it to a local disk and check again."}
}

// isLink reports whether the path that an error names is that of a link.
func isLink(err error) bool {
	var pe *fs.PathError
	if !errors.As(err, &pe) {
		return false
	}
	info, err := os.Lstat(pe.Path)
	return err == nil && info.Mode()&fs.ModeSymlink != 0
}

// plainCause drops the operation and the path from a file system's error.
func plainCause(err error) string {
	var pe *fs.PathError
	if errors.As(err, &pe) {
		return pe.Err.Error()
	}
	return err.Error()
}

func firstUpper(s string) string {
	if s == "" {
		return s
	}
	return strings.ToUpper(s[:1]) + s[1:]
}

// foreign are kinds of file that are met among card artwork and that we do not
// judge: how their bytes begin (at an offset), and what they are.
var foreign = []struct {
	at    int
	magic string
	what  string
	do    string
}{
	{0, "%!PS", "a PostScript file", "Export it as PDF."},
	{0, "8BPS", "a layered Photoshop document (PSD)", "Export it as PDF, or as TIFF with its layers flattened."},
	{4, "ftypheic", "a HEIC photograph", "Export it as JPEG or PNG."},
	{4, "ftypheif", "a HEIF photograph", "Export it as JPEG or PNG."},
	{4, "ftypmif1", "a HEIF photograph", "Export it as JPEG or PNG."},
	{4, "ftypavif", "an AVIF picture", "Export it as JPEG or PNG."},
	{0, "\x00\x00\x00\x0cjP  ", "a JPEG 2000 picture", "Export it as TIFF, PNG or ordinary JPEG."},
	{0, "\xff\x0a", "a JPEG XL picture", "Export it as PNG or ordinary JPEG."},
	{0, "\x00\x00\x00\x0cJXL ", "a JPEG XL picture", "Export it as PNG or ordinary JPEG."},
	{0, "PK\x03\x04", "a zip archive (office and design documents are such, too)", "Open it in the program that made it and export as PDF."},
	{0, "<svg", "an SVG drawing", "Export it as PDF."},
	{0, "<?xml", "an XML file", "Export the artwork as PDF."},
	{0, "<!DOCTYPE", "a web page", "Download the artwork itself, not the page that shows it."},
	{0, "<html", "a web page", "Download the artwork itself, not the page that shows it."},
}

// notArt tells what a file is that is none of the kinds we judge.
func notArt(path string, b []byte) *Fault {
	if len(b) == 0 {
		return &Fault{"The file is empty (0 bytes)", ExportAgain}
	}
	what, do := "not a PDF or a picture that can be read", ExportAgain
	for _, k := range foreign {
		if len(b) >= k.at+len(k.magic) && string(b[k.at:k.at+len(k.magic)]) == k.magic {
			what, do = k.what, k.do
			break
		}
	}
	if claim := kindOfName(path); claim != "" {
		return &Fault{fmt.Sprintf("The name says %s, but the content is %s", Title(claim), what), do}
	}
	return &Fault{"The content is " + what, do}
}

// Kinds of artwork, by the names that reports use.
const (
	KindPDF     = "pdf"
	KindUnknown = "unknown"
)

// titles are the kinds as people write them.
var titles = map[string]string{
	"pdf": "PDF", "jpeg": "JPEG", "png": "PNG", "tiff": "TIFF", "webp": "WebP", "gif": "GIF", "bmp": "BMP",
}

// Title is a kind as people write it.
func Title(kind string) string {
	if t, ok := titles[kind]; ok {
		return t
	}
	return kind
}

// kindOfName is the kind that a file name promises, "" if it promises none.
func kindOfName(path string) string {
	switch strings.ToLower(filepath.Ext(path)) {
	case ".pdf":
		return KindPDF
	case ".jpg", ".jpeg", ".jpe", ".jfif":
		return "jpeg"
	case ".png":
		return "png"
	case ".tif", ".tiff":
		return "tiff"
	case ".webp":
		return "webp"
	case ".gif":
		return "gif"
	case ".bmp", ".dib":
		return "bmp"
	}
	return ""
}

// NamedLikeArt reports whether a file's name promises artwork that we judge.
func NamedLikeArt(path string) bool { return kindOfName(path) != "" }

// Ending is the file ending that a kind is known by.
func Ending(kind string) string {
	switch kind {
	case "jpeg":
		return ".jpg"
	case "tiff":
		return ".tif"
	}
	return "." + kind
}
