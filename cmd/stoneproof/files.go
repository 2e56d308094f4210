package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"sync"

	"github.com/schollz/progressbar/v3"

	"stoneproof/checks"
	"stoneproof/checks/art"
	"stoneproof/rules"
)

// findFiles lists the files to judge in a fixed order: arguments as given, a
// folder's files by name. What does not exist, or a folder without a card file,
// is told apart; the rest is still judged.
func findFiles(args []string) (paths []string, missing []error) {
	for _, arg := range args {
		info, err := os.Stat(arg)
		switch {
		case errors.Is(err, fs.ErrNotExist):
			missing = append(missing, fmt.Errorf("no such file: %q", arg))
		case err != nil && !errors.Is(err, fs.ErrPermission):
			missing = append(missing, fmt.Errorf("cannot look at %q: %w", arg, cause(err)))
		case err == nil && info.IsDir() && !art.NamedLikeArt(arg):
			found, err := below(arg)
			paths = append(paths, found...)
			if err != nil {
				missing = append(missing, err)
			}
		default:
			paths = append(paths, arg)
		}
	}
	return paths, missing
}

// below lists the card files in a folder and its sub-folders. Hidden files and
// folders, and links to folders, are left alone.
func below(root string) ([]string, error) {
	var found []string
	err := filepath.WalkDir(root, func(path string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		hidden := path != root && strings.HasPrefix(d.Name(), ".")
		switch {
		case hidden && d.IsDir():
			return fs.SkipDir
		case hidden || path == root || !art.NamedLikeArt(path):
			return nil
		}
		found = append(found, path)
		if d.IsDir() {
			return fs.SkipDir // a folder named like a file is judged as one
		}
		return nil
	})
	if err != nil {
		return found, fmt.Errorf("cannot look through %q: %w", root, cause(err))
	}
	if len(found) == 0 {
		return nil, withHint(fmt.Errorf("no card files in %q", root), "card files end in .pdf, .jpg, .png, .tif, .webp, .gif or .bmp")
	}
	slices.Sort(found)
	return found, nil
}

// pairsOf tells which paths are front and back of one card: by their names, or
// because there are but two and somebody says so. Where two files have a claim to
// one place, none gets it.
func pairsOf(paths []string, ticket rules.Ticket, given bool) [][2]int {
	if given {
		return [][2]int{{0, 1}}
	}
	sides := map[string][2][]int{}
	for i, path := range paths {
		if card, back, ok := ticket.PairOf(path); ok {
			both := sides[card]
			k := 0
			if back {
				k = 1
			}
			both[k] = append(both[k], i)
			sides[card] = both
		}
	}
	var pairs [][2]int
	for _, both := range sides {
		if len(both[0]) == 1 && len(both[1]) == 1 {
			pairs = append(pairs, [2]int{both[0][0], both[1][0]})
		}
	}
	return pairs
}

// judgeAll judges the files side by side on all cores; the reports stand in the
// order of the paths.
func judgeAll(ctx context.Context, judge checks.FileJudge, paths []string, errs io.Writer) []rules.FileReport {
	reports := make([]rules.FileReport, len(paths))
	bar := progress(len(paths), errs)
	next := make(chan int)
	var wg sync.WaitGroup
	for range min(runtime.GOMAXPROCS(0), len(paths)) {
		wg.Go(func() {
			for i := range next {
				reports[i] = judge(ctx, paths[i])
				bar.Add(1)
			}
		})
	}
	for i := range paths {
		next <- i
	}
	close(next)
	wg.Wait()
	bar.Finish()
	return reports
}

// fewFiles is as many as are judged before anybody wonders whether the program
// still runs.
const fewFiles = 8

// progress is a bar on a terminal where there is more than a moment's work, and
// silent elsewhere.
func progress(n int, errs io.Writer) *progressbar.ProgressBar {
	if _, ok := terminal(errs); !ok || n <= fewFiles {
		return progressbar.DefaultSilent(int64(n))
	}
	return progressbar.NewOptions(n,
		progressbar.OptionSetWriter(errs),
		progressbar.OptionSetDescription("judging"),
		progressbar.OptionShowCount(),
		progressbar.OptionSetWidth(30),
		progressbar.OptionClearOnFinish(),
	)
}
