package report

import (
	"fmt"
	"slices"
	"strings"

	"stoneproof/rules"
)

// closing says the verdict of the run and what to do next.
func closing(r rules.Report, strict bool) string {
	pass, warn, fail := r.Count()
	files := pass + warn + fail
	skipped := anySkip(r)
	var say []string
	switch {
	case files == 0:
		return "No files were checked."
	case fail > 0 || strict && warn > 0:
		say = failing(fail, warn, files, strict)
	case warn > 0:
		say = []string{"Nothing fails. " + share(warn, files, "has", "have") +
			" warnings: look at each place that is marked warn, and print if you can live with it."}
	default:
		say = []string{good(files, skipped)}
	}
	if skipped {
		say = append(say, "What is marked skip was not judged; the reason stands beside it.")
	}
	return strings.Join(say, " ")
}

func good(files int, skipped bool) string {
	so := "All good"
	if skipped {
		so += " as far as was judged"
	}
	if files == 1 {
		return so + ": the file may go to print."
	}
	return fmt.Sprintf("%s: %d files may go to print.", so, files)
}

// failing tells how many files fail, and what to do; in a strict run those that
// warn are among them.
func failing(fail, warn, files int, strict bool) []string {
	if strict && warn > 0 {
		return []string{
			share(fail+warn, files, "fails", "fail") + ": warnings count as failures here.",
			"Put right what is marked fail or warn, export again, and check once more.",
		}
	}
	say := []string{
		share(fail, files, "fails", "fail") + ".",
		"Put right what is marked fail, export again, and check once more.",
	}
	if warn > 0 {
		say = append(say, share(warn, files, "only warns", "only warn")+": weigh what is marked warn.")
	}
	return say
}

// share tells how many of the files do something.
func share(n, of int, does, do string) string {
	verb := do
	if n == 1 {
		verb = does
	}
	if of == 1 {
		return "The file " + verb
	}
	if n == 2 && of == 2 {
		return "Both files " + verb
	}
	if n == of {
		return fmt.Sprintf("All %d files %s", of, verb)
	}
	return fmt.Sprintf("%d of %d files %s", n, of, verb)
}

func anySkip(r rules.Report) bool {
	return slices.ContainsFunc(r.Files, func(f rules.FileReport) bool {
		return slices.ContainsFunc(f.Findings, func(g rules.Finding) bool { return g.Verdict == rules.Skip })
	})
}
