package plates

import (
	"maps"
	"slices"
	"strconv"
)

// resources is the resource dictionary of one stream being written: only what its
// content uses, under names of ours.
type resources struct {
	names map[resource]string
	count int
}

type resource struct{ category, value string }

func newResources() *resources { return &resources{names: map[resource]string{}} }

// name gives the name, with its slash, of a value in a category: "XObject", "Font" …
func (r *resources) name(category, value string) string {
	key := resource{category, value}
	n, ok := r.names[key]
	if !ok {
		r.count++
		n = "/R" + strconv.Itoa(r.count)
		r.names[key] = n
	}
	return n
}

// String writes the dictionary.
func (r *resources) String() string {
	categories := map[string]string{}
	for key, name := range r.names {
		categories[key.category] += name + " " + key.value
	}
	out := "<<"
	for _, c := range slices.Sorted(maps.Keys(categories)) {
		out += "/" + c + "<<" + categories[c] + ">>"
	}
	return out + ">>"
}
