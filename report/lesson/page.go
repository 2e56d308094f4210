package lesson

import (
	"bytes"
	_ "embed"
	"fmt"
	"io"
	"strings"

	"github.com/yuin/goldmark"
	"github.com/yuin/goldmark/ast"
	"github.com/yuin/goldmark/extension"
	"github.com/yuin/goldmark/renderer"
	"github.com/yuin/goldmark/util"

	"stoneproof/rules"
)

//go:embed page.css
var style string

// Page tells the lessons as one page for a browser, with nothing beside it: no
// script, no network.
func Page(w io.Writer, t rules.Ticket) error {
	page, err := text(t)
	if err != nil {
		return err
	}
	var body bytes.Buffer
	drawn := drawer{t}
	md := goldmark.New(goldmark.WithExtensions(extension.Table),
		goldmark.WithRendererOptions(renderer.WithNodeRenderers(util.Prioritized(drawn, 1))))
	if err := md.Convert([]byte(page), &body); err != nil {
		return err
	}
	_, err = fmt.Fprintf(w, `<!DOCTYPE html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>Trim, bleed and safe zone</title>
<style>
%s</style>
</head>
<body>
<main>
%s</main>
</body>
</html>
`, style, body.String())
	return err
}

// drawer draws the lessons' pictures in lines.
type drawer struct{ ticket rules.Ticket }

// RegisterFuncs has pictures drawn here and all else by the reader of Markdown.
func (d drawer) RegisterFuncs(r renderer.NodeRendererFuncRegisterer) {
	r.Register(ast.KindFencedCodeBlock, func(w util.BufWriter, source []byte, n ast.Node, entering bool) (ast.WalkStatus, error) {
		if !entering {
			return ast.WalkContinue, nil
		}
		info := string(n.(*ast.FencedCodeBlock).Info.Value(source))
		for _, p := range pictures(d.ticket) {
			if info == "picture "+p.name {
				_, err := w.WriteString(p.figure(d.ticket))
				return ast.WalkSkipChildren, err
			}
		}
		return ast.WalkStop, fmt.Errorf("no picture is called %q", strings.TrimPrefix(info, "picture "))
	})
}
