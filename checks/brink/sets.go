package brink

import (
	"cmp"
	"slices"
)

// collect makes the groups of a union-find, in the order of their first marks.
func collect(marks []blob, sets sets) []group {
	at := map[int]int{}
	var groups []group
	for i, b := range marks {
		root := sets.find(i)
		k, ok := at[root]
		if !ok {
			k = len(groups)
			at[root] = k
			groups = append(groups, group{})
		}
		groups[k].add(b)
	}
	return groups
}

// sets is a union-find.
type sets []int

func newSets(n int) sets {
	s := make(sets, n)
	for i := range s {
		s[i] = i
	}
	return s
}

func (s sets) find(i int) int {
	for s[i] != i {
		s[i] = s[s[i]]
		i = s[i]
	}
	return i
}

func (s sets) join(i, k int) { s[s.find(k)] = s.find(i) }

// neighbours finds the marks near one without comparing all.
type neighbours struct {
	byX   []int // indexes of marks by their left side
	marks []blob
	widest,
	reach int
}

func (f *field) nearby(marks []blob) neighbours {
	n := neighbours{marks: marks, byX: make([]int, len(marks)), reach: roundInt(letterGap * tallLetter * 1000 / f.px)}
	for i := range marks {
		n.byX[i] = i
		n.widest = max(n.widest, marks[i].w())
	}
	slices.SortFunc(n.byX, func(a, b int) int { return cmp.Or(cmp.Compare(marks[a].x0, marks[b].x0), cmp.Compare(a, b)) })
	return n
}

// about lists the marks whose left side is within reach right of b's own, or
// which overlap it from the left.
func (n *neighbours) about(b blob) []int {
	from, _ := slices.BinarySearchFunc(n.byX, b.x0-n.widest, func(i, x int) int { return cmp.Compare(n.marks[i].x0, x) })
	to, _ := slices.BinarySearchFunc(n.byX, b.x1+n.reach, func(i, x int) int { return cmp.Compare(n.marks[i].x0, x) })
	return n.byX[from:max(from, to)]
}
