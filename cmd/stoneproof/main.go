// Command stoneproof is the last look at print-ready card artwork before ink,
// paper and knife make a mistake expensive.
package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"os/signal"
	"runtime/debug"
	"syscall"

	"github.com/spf13/cobra"
)

func main() {
	os.Exit(run(os.Args[1:], os.Stdin, os.Stdout, os.Stderr))
}

// run is the whole program: it speaks to out and errs and returns the exit
// status.
func run(args []string, in io.Reader, out, errs io.Writer) int {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	defer stop()
	s := &speaker{out: out, errs: errs}
	root := rootCommand(s)
	root.SetArgs(args)
	root.SetIn(in)
	root.SetOut(out)
	root.SetErr(errs)
	err := root.ExecuteContext(ctx)
	if err == nil {
		return exitGood
	}
	var status exitStatus
	if errors.As(err, &status) {
		return int(status)
	}
	s.error(err)
	return exitCannot
}

func rootCommand(s *speaker) *cobra.Command {
	root := &cobra.Command{
		Use:   "stoneproof",
		Short: "The last look at card artwork before it is printed",
		Long: `Stoneproof looks at print-ready card artwork before ink, paper and knife make a
mistake expensive: finished size, bleed that is really painted, what lies near
the knife, resolution, colour, ink, type and lines. It says what to put right,
in exact numbers.`,
		Example: `  stoneproof check card.pdf
  stoneproof check --size eu-business --process offset-coated front.tif back.tif
  stoneproof explain bleed-fill
  stoneproof primer
  stoneproof inks card.pdf
  stoneproof sheet plan --quantity 250
  stoneproof desk
  stoneproof sizes`,
		Version:       version(),
		SilenceErrors: true,
		SilenceUsage:  true,
		Args:          cobra.ArbitraryArgs,
		RunE: func(c *cobra.Command, args []string) error {
			if len(args) == 0 {
				return c.Help()
			}
			return withHint(fmt.Errorf("unknown command %q", args[0]), "to check a file: stoneproof check "+args[0])
		},
	}
	root.SetVersionTemplate("stoneproof {{.Version}}\n")
	root.CompletionOptions.HiddenDefaultCmd = true
	root.SetFlagErrorFunc(func(c *cobra.Command, err error) error {
		return withHint(err, "see "+c.CommandPath()+" --help")
	})
	root.AddCommand(
		checkCommand(s),
		deskCommand(s),
		explainCommand(s),
		gateCommand(s),
		inksCommand(s),
		primerCommand(s),
		sheetCommand(s),
		sizesCommand(s),
		schemaCommand(s),
		apartCommand(),
	)
	return root
}

// version is the module's version, as the build knows it.
func version() string {
	info, ok := debug.ReadBuildInfo()
	if !ok || info.Main.Version == "" || info.Main.Version == "(devel)" {
		return "devel"
	}
	return info.Main.Version
}
