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
	"github.com/spf13/pflag"

	"stoneproof/rules"
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
			return unknownCommand(c, args[0], "to check a file: stoneproof check "+args[0])
		},
	}
	root.SetVersionTemplate("stoneproof {{.Version}}\n")
	root.CompletionOptions.HiddenDefaultCmd = true
	root.SetFlagErrorFunc(func(c *cobra.Command, err error) error {
		return withHint(flagError(err), "see "+c.CommandPath()+" --help")
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

// unknownCommand tells which command of c may have been meant, or else what to do.
func unknownCommand(c *cobra.Command, name, hint string) error {
	c.SuggestionsMinimumDistance = 2
	near := c.SuggestionsFor(name)
	if len(near) > 0 {
		hint = "see " + c.CommandPath() + " --help"
	}
	return withHint(&rules.UnknownError{What: "command", Name: name, Near: near}, hint)
}

// takesNothing refuses arguments that are no flags.
func takesNothing(c *cobra.Command, args []string) error {
	if len(args) == 0 {
		return nil
	}
	return withHint(fmt.Errorf("%s takes no %q", c.Name(), args[0]), "see "+c.CommandPath()+" --help")
}

// flagError tells in plain words of a number or a time that is none.
func flagError(err error) error {
	var bad *pflag.InvalidValueError
	if !errors.As(err, &bad) {
		return err
	}
	var want string
	switch bad.GetFlag().Value.Type() {
	case "int", "int64", "uint64", "uint16":
		want = "whole number"
	case "duration":
		want = "time: write 500ms, 2s or 1m"
	default:
		return err
	}
	return fmt.Errorf("--%s: %q is no %s", bad.GetFlag().Name, bad.GetValue(), want)
}

// version is the module's version, as the build knows it.
func version() string {
	info, ok := debug.ReadBuildInfo()
	if !ok || info.Main.Version == "" || info.Main.Version == "(devel)" {
		return "devel"
	}
	return info.Main.Version
}
