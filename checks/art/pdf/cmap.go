package pdf

import (
	"encoding/binary"
	"slices"
	"sort"
	"unicode/utf8"

	"stoneproof/checks/art/pdf/syntax"
)

// codeMap is what a CMap says (9.7.5, 9.10.3): how codes are cut from a string,
// which CID a code selects, which text it means.
type codeMap struct {
	spaces   []codeRange
	cids     []codeRange
	text     map[int]string
	texts    []textRange
	vertical bool
	most     int // entries of each kind
}

// codeRange is a range of codes of n bytes and the CID of its first.
type codeRange struct{ n, lo, hi, cid int }

// textRange gives the text of its first code; the last character counts up.
type textRange struct {
	lo, hi int
	text   string
}

// parseCMap reads a CMap program. It is PostScript, but of so fixed a form that
// operands and keywords are enough.
func parseCMap(b []byte, most int) *codeMap {
	m := &codeMap{text: map[int]string{}}
	l, args := syntax.Lexer{B: b}, syntax.Operands{Most: most}
	m.most = most
	for t := l.Next(); t.Kind != syntax.End; t = l.Next() {
		if t.Kind != syntax.Word {
			args.Add(t)
			continue
		}
		args.Settle()
		m.keyword(string(t.Raw), args.List)
		args.Reset()
	}
	slices.SortStableFunc(m.cids, func(a, b codeRange) int { return a.lo - b.lo })
	slices.SortStableFunc(m.texts, func(a, b textRange) int { return a.lo - b.lo })
	return m
}

func (m *codeMap) keyword(word string, a []syntax.Token) {
	switch word {
	case "endcodespacerange":
		const most = 100 // Table 118's maps have some five
		for ; len(a) >= 2 && len(m.spaces) < most; a = a[2:] {
			lo, n := code(a[0])
			hi, _ := code(a[1])
			m.spaces = append(m.spaces, codeRange{n: n, lo: lo, hi: hi})
		}
	case "endcidrange":
		for ; len(a) >= 3 && len(m.cids) < m.most; a = a[3:] {
			lo, n := code(a[0])
			hi, _ := code(a[1])
			m.cids = append(m.cids, codeRange{n, lo, hi, int(a[2].Num)})
		}
	case "endcidchar":
		for ; len(a) >= 2 && len(m.cids) < m.most; a = a[2:] {
			lo, n := code(a[0])
			m.cids = append(m.cids, codeRange{n, lo, lo, int(a[1].Num)})
		}
	case "endbfchar":
		for ; len(a) >= 2; a = a[2:] {
			lo, _ := code(a[0])
			m.setText(lo, a[1])
		}
	case "endbfrange":
		m.textRanges(a)
	case "def":
		if n := len(a); n >= 2 && string(a[n-2].Raw) == "WMode" {
			m.vertical = a[n-1].Num == 1
		}
	}
}

func (m *codeMap) textRanges(a []syntax.Token) {
	for len(a) >= 3 {
		lo, _ := code(a[0])
		hi, _ := code(a[1])
		to, inside := a[2], a[3:3+a[2].Span]
		a = a[3+to.Span:]
		if to.Kind != syntax.Open {
			if len(m.texts) < m.most {
				m.texts = append(m.texts, textRange{lo, hi, meaning(to)})
			}
			continue
		}
		for i, t := range inside {
			m.setText(lo+i, t)
		}
	}
}

func (m *codeMap) setText(code int, t syntax.Token) {
	if len(m.text) < m.most {
		m.text[code] = meaning(t)
	}
}

// meaning reads the text of one code, which is of 512 bytes at most (9.10.3).
func meaning(t syntax.Token) string {
	const most = 512
	b := t.AppendString(nil)
	return utf16Text(b[:min(len(b), most)])
}

// code is the number that a string of up to four bytes stands for.
func code(t syntax.Token) (v, n int) {
	var room [8]byte
	b := t.AppendString(room[:0])
	if len(b) > 4 {
		b = b[:4]
	}
	var four [4]byte
	copy(four[4-len(b):], b)
	return int(binary.BigEndian.Uint32(four[:])), len(b)
}

// cut takes the next code off s.
func (m *codeMap) cut(s []byte) (v, n int) {
	for n = 1; n <= min(4, len(s)); n++ {
		v = v<<8 | int(s[n-1])
		for _, r := range m.spaces {
			if r.n == n && inRange(v, r, n) {
				return v, n
			}
		}
	}
	n = 2 // not in any range: pass over as many bytes as most codes have
	if len(m.spaces) > 0 {
		n = m.spaces[0].n
	}
	n = max(1, min(n, len(s)))
	v = 0
	for _, c := range s[:n] {
		v = v<<8 | int(c)
	}
	return v, n
}

// inRange compares byte by byte: a code space is a box, not an interval (9.7.6.2).
func inRange(v int, r codeRange, n int) bool {
	for i := range n {
		b := v >> (8 * i) & 255
		if b < r.lo>>(8*i)&255 || b > r.hi>>(8*i)&255 {
			return false
		}
	}
	return true
}

func (m *codeMap) cid(v, n int) int {
	i := sort.Search(len(m.cids), func(i int) bool { return m.cids[i].lo > v }) - 1
	if i >= 0 && m.cids[i].n == n && v <= m.cids[i].hi {
		return m.cids[i].cid + v - m.cids[i].lo
	}
	return 0
}

// textOf gives the text of a code, "" if the map does not tell.
func (m *codeMap) textOf(v int) string {
	if m == nil {
		return ""
	}
	if s, ok := m.text[v]; ok {
		return s
	}
	i := sort.Search(len(m.texts), func(i int) bool { return m.texts[i].lo > v }) - 1
	if i < 0 || v > m.texts[i].hi || m.texts[i].text == "" {
		return ""
	}
	r := m.texts[i]
	last, size := utf8.DecodeLastRuneInString(r.text)
	return r.text[:len(r.text)-size] + string(last+rune(v-r.lo))
}
