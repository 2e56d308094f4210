package main

import (
	"os"
	"os/signal"
	"syscall"

	"github.com/spf13/cobra"

	"stoneproof/cmd/stoneproof/internal/apart"
)

// apartCommand is how the program runs itself to judge files apart. It is for no
// person, and so is not shown.
func apartCommand() *cobra.Command {
	return &cobra.Command{
		Use:    apart.Command,
		Hidden: true,
		Args:   cobra.NoArgs,
		RunE: func(c *cobra.Command, _ []string) error {
			// A terminal sends its signals to parent and child; the parent decides
			// what is finished, and the child ends with it.
			signal.Ignore(os.Interrupt, syscall.SIGTERM)
			out := os.Stdout
			os.Stdout = os.Stderr // nothing but answers may stand between answers
			return apart.Serve(os.Stdin, out)
		},
	}
}
