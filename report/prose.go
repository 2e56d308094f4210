package report

import (
	"bytes"
	"fmt"
	"io"
	"strings"

	"github.com/yuin/goldmark"
	"github.com/yuin/goldmark/ast"
	"github.com/yuin/goldmark/extension"
	east "github.com/yuin/goldmark/extension/ast"
	"github.com/yuin/goldmark/text"
	"github.com/yuin/goldmark/util"
)

// ProseOptions says how a page of words is to look.
type ProseOptions struct {
	Width  int  // columns of the terminal, taken as 60 to 100; 0 is 80
	Colour bool // paint with ANSI escape sequences
}

// mostProse is the widest line of running words: longer ones are hard to follow
// (common practice).
const mostProse = 100

func (o ProseOptions) columns() int {
	if o.Width == 0 {
		return usualWidth
	}
	return min(max(o.Width, leastWidth), mostProse)
}

// Prose writes a page of Markdown for a terminal: headings, paragraphs, lists
// and tables are wrapped, drawings stay as they are. Other kinds of Markdown are
// written as running words. The only errors are w's own.
func Prose(w io.Writer, page string, o ProseOptions) error {
	source := []byte(page)
	var out bytes.Buffer
	p := prose{out: &out, source: source, width: o.columns(), ink: ink(o.Colour)}
	root := goldmark.New(goldmark.WithExtensions(extension.Table)).Parser().Parse(text.NewReader(source))
	for block := root.FirstChild(); block != nil; block = block.NextSibling() {
		if block.PreviousSibling() != nil && !leads(block.PreviousSibling()) {
			out.WriteByte('\n')
		}
		p.block(block)
	}
	_, err := w.Write(out.Bytes())
	return err
}

// leads reports whether what follows stands right below: the words of a section.
func leads(n ast.Node) bool {
	h, ok := n.(*ast.Heading)
	return ok && h.Level > 1
}

// prose writes blocks of Markdown.
type prose struct {
	out    *bytes.Buffer
	source []byte
	width  int
	ink    ink
}

func (p prose) block(n ast.Node) {
	switch n := n.(type) {
	case *ast.Heading:
		for _, line := range wrap(p.words(n), p.width) {
			fmt.Fprintln(p.out, p.ink.paint(line, bold))
		}
	case *ast.List:
		p.list(n)
	case *ast.FencedCodeBlock:
		p.drawing(n)
	case *east.Table:
		p.table(n)
	default:
		p.running(p.words(n), "", p.width-rowIndent)
	}
}

// running writes running words, led by a mark where there is one.
func (p prose) running(words, mark string, width int) {
	for _, line := range p.ink.quoted(wrap(words, width-cells(mark))) {
		fmt.Fprintf(p.out, "%*s%s%s\n", rowIndent, "", mark, line)
		mark = strings.Repeat(" ", cells(mark))
	}
}

func (p prose) list(l *ast.List) {
	number := l.Start
	for item := l.FirstChild(); item != nil; item = item.NextSibling() {
		mark := "- "
		if l.IsOrdered() {
			mark = fmt.Sprintf("%d. ", number)
			number++
		}
		p.running(p.words(item), mark, p.width-rowIndent)
	}
}

// drawing writes a drawing as it is: wrapping it would tear it.
func (p prose) drawing(n *ast.FencedCodeBlock) {
	lines := n.Lines()
	for i := range lines.Len() {
		line := lines.At(i)
		fmt.Fprintln(p.out, visible(strings.TrimRight(string(line.Value(p.source)), "\n")))
	}
}

// words are the words below a node, code between backticks.
func (p prose) words(n ast.Node) string {
	var b strings.Builder
	_ = ast.Walk(n, func(n ast.Node, entering bool) (ast.WalkStatus, error) {
		switch n := n.(type) {
		case *ast.CodeSpan:
			b.WriteByte('`')
		case *ast.Text:
			if entering {
				b.Write(p.plain(n))
				if n.SoftLineBreak() || n.HardLineBreak() {
					b.WriteByte(' ')
				}
			}
		default:
			if n.Type() == ast.TypeBlock && !entering {
				b.WriteByte(' ')
			}
		}
		return ast.WalkContinue, nil
	})
	return visible(strings.Join(strings.Fields(b.String()), " "))
}

func (p prose) plain(n *ast.Text) []byte {
	words := n.Value(p.source)
	if n.IsRaw() || n.Parent().Kind() == ast.KindCodeSpan {
		return words
	}
	return util.UnescapePunctuations(util.ResolveEntityNames(util.ResolveNumericReferences(words)))
}

// quoted paints what stands between backticks, which may run on from line to
// line, and then leaves the backticks out. Without colour they tell it.
func (i ink) quoted(lines []string) []string {
	if !i {
		return lines
	}
	within := false
	painted := make([]string, len(lines))
	for n, line := range lines {
		for k, part := range strings.Split(line, "`") {
			if k > 0 {
				within = !within
			}
			if within {
				part = i.paint(part, bold)
			}
			painted[n] += part
		}
	}
	return painted
}
