package main

import (
	"fmt"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
)

// producer is a program of others that makes a file anew.
type producer struct {
	name     string
	tool     string
	from, to string   // kinds of file
	args     []string // IN and OUT stand for the files
	keeps    []string // rules whose faults are in the new file as well
	upsets   []string // rules that it may break by itself
	process  string   // what takes its colours; empty for the sample's own
}

// producers lists them. What paints stays the same; what a program may mend, drop or
// add by itself is left out: Ghostscript embeds fonts, flattens layers and saves pictures
// anew as JPEGs of quality 55, a renderer
// leaves nothing but pixels and a half-covered row of them at an edge, ImageMagick
// makes a grey picture of an RGB one that has no colour and keeps the profile, and
// WebP knows no grey.
func producers() []producer {
	paint := []string{"bleed-fill", "safe-zone", "edge-border", "marks-in-art"}
	pixels := append([]string{"trim-size", "bleed-extent", "effective-resolution", "jpeg-loss", "ink-total", "code-scan"}, paint...)
	page := append([]string{"side-count", "page-boxes", "spot-colours", "colour-space", "rich-black", "overprint", "text-size", "hairlines"}, pixels...)
	of := strings.Fields
	return []producer{
		{name: "Ghostscript", tool: "gs", from: "pdf", to: "pdf", keeps: page, upsets: of("colour-tags jpeg-loss"),
			args: of("-q -dNOPAUSE -dBATCH -dSAFER -dAutoRotatePages=/None -sDEVICE=pdfwrite -sOutputFile=OUT IN")},
		{name: "qpdf", tool: "qpdf", from: "pdf", to: "pdf", keeps: append(of("colour-tags fonts-embedded live-extras"), page...),
			args: of("--linearize --object-streams=generate --recompress-flate IN OUT")},
		{name: "poppler", tool: "pdftoppm", from: "pdf", to: "tif", keeps: paint, upsets: of("colour-tags bleed-fill"), process: "desktop",
			args: of("-r 300 -tiff -tiffcompression lzw -singlefile IN OUT")},
		{name: "cairo", tool: "pdftocairo", from: "pdf", to: "png", keeps: paint, upsets: of("colour-tags bleed-fill"), process: "desktop",
			args: of("-r 300 -png -singlefile IN OUT")},
		{name: "ImageMagick", tool: "convert", from: "jpg", to: "jpg", keeps: pixels, upsets: of("colour-tags"), args: of("IN -quality 92 OUT")},
		{name: "ImageMagick", tool: "convert", from: "tif", to: "tif", keeps: pixels, upsets: of("colour-tags"), args: of("IN -compress zip OUT")},
		{name: "ImageMagick", tool: "convert", from: "png", to: "webp", keeps: pixels, process: "desktop", args: of("IN -define webp:lossless=true OUT")},
		{name: "libtiff", tool: "tiffcp", from: "tif", to: "tif", keeps: append(of("colour-tags"), pixels...),
			args: of("-c lzw:2 -t -w 256 -l 256 IN OUT")},
		{name: "libtiff", tool: "tiff2pdf", from: "tif", to: "pdf", keeps: paint, upsets: of("page-boxes colour-tags"),
			args: of("-z -o OUT IN")},
	}
}

// takes reports whether what is true of a sample is true of what the program makes of it.
func (p *producer) takes(s *sample) bool {
	if filepath.Ext(s.name) != "."+p.from || s.fault != "" && !slices.Contains(p.keeps, s.fault) {
		return false
	}
	// A renderer draws the whole page, so that nothing may lie about the bleed.
	return p.from != "pdf" || p.to == "pdf" || s.fault != ""
}

// remade lists the samples made anew, each by one of the programs that take it.
func remade(list []sample) []sample {
	all, turn := producers(), 0
	var out []sample
	for _, s := range list {
		for range all {
			p := &all[turn%len(all)]
			turn++
			if !p.takes(&s) {
				continue
			}
			s.name = strings.TrimSuffix(s.name, filepath.Ext(s.name)) + ", by " + p.name + "." + p.to
			s.by = p
			if p.process != "" {
				s.order.Process = p.process
			}
			out = append(out, s)
			break
		}
	}
	return out
}

// installed tells the samples that can be made here, and the programs that are missing.
func installed(list []sample) (here []sample, missing []string) {
	for _, s := range list {
		if s.by != nil {
			if _, err := exec.LookPath(s.by.tool); err != nil {
				if !slices.Contains(missing, s.by.tool) {
					missing = append(missing, s.by.tool)
				}
				continue
			}
		}
		here = append(here, s)
	}
	return here, missing
}

// run makes the file at path anew and tells where it lies.
func (p *producer) run(path string) (string, error) {
	out := path + "-new." + p.to
	named := out
	if p.tool == "pdftoppm" || p.tool == "pdftocairo" { // they add the kind themselves
		named = path + "-new"
	}
	var args []string
	for _, a := range p.args {
		args = append(args, strings.NewReplacer("IN", path, "OUT", named).Replace(a))
	}
	if said, err := exec.Command(p.tool, args...).CombinedOutput(); err != nil {
		return "", fmt.Errorf("%s: %w: %s", p.tool, err, said)
	}
	return out, nil
}
