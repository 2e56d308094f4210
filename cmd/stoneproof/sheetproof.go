package main

import (
	"errors"
	"fmt"
	"time"

	"github.com/spf13/cobra"

	"stoneproof/report/sheet/impose"
)

func turnProofCommand(s *speaker) *cobra.Command {
	var f sheetFlags
	var output string
	c := &cobra.Command{
		Use:   "turn-proof [flags] -o PROOF.pdf",
		Short: "Make a test sheet that shows how far backs are off their fronts",
		Long: `Turn-proof makes two pages for plain paper. Printed on both sides and held against
the light they show whether the sheet was turned on the right edge, and on scales
how far the back is off. The readings go into --back-shift, or into the job ticket:
back-shift = "0.5mm,-0.5mm".`,
		Example: `  stoneproof sheet turn-proof -o proof.pdf
  stoneproof sheet turn-proof --sheet a4 --turn short -o proof.pdf`,
		Args: takesNothing,
		RunE: func(*cobra.Command, []string) error {
			if output == "" {
				return withHint(errors.New("no file to write the proof to"), "stoneproof sheet turn-proof -o proof.pdf")
			}
			a, _, err := f.ask()
			if err != nil {
				return err
			}
			b, err := impose.Proof{Ask: a, Made: time.Now(), Program: "stoneproof " + version()}.Draw()
			if err != nil {
				return err
			}
			if err := writeWhole(output, b); err != nil {
				return err
			}
			_, err = fmt.Fprintf(s.out, "%s: print it on plain paper at actual size (100 %%), on both sides, turned on\nthe %s edge; the back says how to read it.\n", output, a.Turn)
			return err
		},
	}
	f.registerPaper(c.Flags())
	c.Flags().StringVarP(&output, "output", "o", "", "write the proof to `FILE`")
	return c
}
