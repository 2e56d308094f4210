package main

import (
	"bytes"
	"fmt"
	"io"
	"strings"

	"github.com/olekukonko/tablewriter"
	"github.com/olekukonko/tablewriter/renderer"
	"github.com/olekukonko/tablewriter/tw"
	"github.com/spf13/cobra"

	"stoneproof/report"
	"stoneproof/rules"
)

func sizesCommand(s *speaker) *cobra.Command {
	return &cobra.Command{
		Use:   "sizes",
		Short: "List the named card sizes, with their sources",
		Args:  takesNothing,
		RunE:  func(*cobra.Command, []string) error { return listSizes(s) },
	}
}

// listSizes prints the named sizes.
func listSizes(s *speaker) error {
	var text bytes.Buffer
	if err := sizeTable(&text); err != nil {
		return err
	}
	for line := range strings.Lines(text.String()) {
		fmt.Fprintln(s.out, strings.TrimRight(strings.TrimPrefix(line, " "), " \n"))
	}
	_, err := fmt.Fprintln(s.out, "\nBleed and safe margin are per edge, and common practice everywhere.")
	return err
}

func sizeTable(w io.Writer) error {
	t := tablewriter.NewTable(w,
		tablewriter.WithRenderer(renderer.NewBlueprint(tw.Rendition{Borders: tw.BorderNone, Settings: tw.Settings{
			Separators: tw.SeparatorsNone, Lines: tw.LinesNone,
		}})),
		tablewriter.WithHeaderAutoFormat(tw.Off),
		tablewriter.WithAlignment(tw.Alignment{tw.AlignLeft, tw.AlignLeft, tw.AlignLeft, tw.AlignLeft, tw.AlignLeft}),
		tablewriter.WithHeaderAlignment(tw.AlignLeft),
	)
	t.Header("name", "trim", "bleed, safe", "what it is", "source")
	for _, n := range rules.Sizes() {
		name := n.Name
		if name == rules.DefaultSize {
			name += " (default)"
		}
		margins := n.Bleed.Number(n.Unit) + ", " + n.Safe.In(n.Unit)
		if err := t.Append(name, n.Trim.In(n.Unit), margins, n.Title, n.Source); err != nil {
			return err
		}
	}
	return t.Render()
}

func schemaCommand(s *speaker) *cobra.Command {
	return &cobra.Command{
		Use:   "schema",
		Short: "Print the JSON Schema of check's JSON report",
		Args:  takesNothing,
		RunE: func(*cobra.Command, []string) error {
			_, err := fmt.Fprintf(s.out, "%s", report.Schema())
			return err
		},
	}
}
