package plates

func pathOperators(t map[string]operator) {
	for _, op := range []string{"m", "l", "c", "v", "y", "h", "re"} {
		t[op] = func(r *rewriter) {
			r.path = append(append(appendTokens(r.path, r.args.List), op...), '\n')
		}
	}
	t["W"] = func(r *rewriter) { r.clip = "W" }
	t["W*"] = func(r *rewriter) { r.clip = "W*" }
	t["n"] = func(r *rewriter) { r.paintPath("", false) }
	t["f"] = func(r *rewriter) { r.paintPath("f", false) }
	t["F"], t["f*"] = t["f"], func(r *rewriter) { r.paintPath("f*", false) }
	t["S"] = func(r *rewriter) { r.paintPath("", true) }
	t["B"] = func(r *rewriter) { r.paintPath("f", true) }
	t["B*"] = func(r *rewriter) { r.paintPath("f*", true) }
	t["s"], t["b"], t["b*"] = closed(t["S"]), closed(t["B"]), closed(t["B*"])
}

// closed is for the operators that close the path first (Table 60).
func closed(paint operator) operator {
	return func(r *rewriter) {
		r.path = append(r.path, "h\n"...)
		paint(r)
	}
}

// paintPath paints the path on this plate as far as it lands there, and ends it. Fill
// is f, f* or "" for none.
func (r *rewriter) paintPath(fill string, stroke bool) {
	filled, stroked := spared, spared
	if fill != "" {
		filled = r.lands(true)
	}
	if stroke {
		stroked = r.lands(false)
	}
	switch {
	case filled != spared && stroked != spared && filled == stroked:
		both := map[string]string{"f": "B", "f*": "B*"}[fill]
		r.putPath(both, filled, stroked, r.clip)
	case filled != spared && stroked != spared:
		r.putPath(fill, filled, spared, "")
		r.putPath("S", spared, stroked, r.clip)
	case filled != spared:
		r.putPath(fill, filled, spared, r.clip)
	case stroked != spared:
		r.putPath("S", spared, stroked, r.clip)
	case r.clip != "":
		r.putPath("n", spared, spared, r.clip)
	}
	r.path, r.clip = r.path[:0], ""
}

func (r *rewriter) putPath(op string, filled, stroked landing, clip string) {
	if op != "n" {
		r.dress(filled, stroked)
	}
	r.out.Write(r.path)
	if clip != "" {
		r.out.WriteString(clip)
		r.out.WriteByte('\n')
	}
	r.out.WriteString(op)
	r.out.WriteByte('\n')
}
