package main

import (
	"flag"
	"fmt"
	"math/rand/v2"
	"os"
	"slices"
	"strings"

	"stoneproof/rules"
)

func main() {
	seeds := flag.String("seeds", "40-41", "seed or `RANGE` of seeds to draw")
	only := flag.String("rules", "", "draw the faults of these `RULES` alone, and no sound cards")
	list := flag.Bool("list", true, "list misses and false alarms")
	keep := flag.String("keep", "", "`FOLDER` to put the files in that were judged wrongly")
	flag.Parse()
	o := order{keep: *keep, list: *list}
	n, _ := fmt.Sscanf(*seeds, "%d-%d", &o.from, &o.to)
	if n == 1 {
		o.to = o.from
	}
	if n < 1 || o.from > o.to {
		exit(2, fmt.Errorf("-seeds wants a seed or a range: 40-43"))
	}
	if *only != "" {
		o.rules = strings.Split(*only, ",")
		for _, id := range o.rules {
			if !slices.Contains(rules.RuleIDs(), id) {
				exit(2, fmt.Errorf("there is no rule %q", id))
			}
		}
	}
	if err := run(o); err != nil {
		exit(1, err)
	}
}

func exit(code int, err error) {
	fmt.Fprintln(os.Stderr, "bench:", err)
	os.Exit(code)
}

// order is what was asked for on the command line.
type order struct {
	from, to int      // seeds
	rules    []string // whose faults are drawn; none for all rules, and sound cards
	keep     string   // folder for what was judged wrongly
	list     bool
}

// samples draws what was ordered.
func (o order) samples() []sample {
	var all []sample
	for seed := o.from; seed <= o.to; seed++ {
		list := drawn(seed, faults())
		if o.rules == nil {
			list = append(append(untouched(seed), list...), drawn(seed, nearMisses())...)
		} else {
			list = slices.DeleteFunc(list, func(s sample) bool { return !slices.Contains(o.rules, s.fault) })
		}
		all = append(append(all, list...), remade(list)...)
	}
	// Mixed, so that what was judged before an interrupt is of all kinds.
	r := rand.New(rand.NewPCG(uint64(o.from), uint64(o.to)))
	r.Shuffle(len(all), func(i, k int) { all[i], all[k] = all[k], all[i] })
	return all
}
