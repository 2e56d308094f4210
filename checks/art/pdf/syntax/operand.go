package syntax

// Operands collects what stands before an operator. Arrays and dictionaries lie
// flat: their opening token counts the tokens inside, so nothing nests in memory
// and nothing recurses.
type Operands struct {
	List []Token
	open []int // opening tokens not yet shut
	Most int   // how many are kept
	Full bool  // the ceiling was hit since the last reset
}

// Reset forgets them, for the next operator.
func (o *Operands) Reset() {
	o.List, o.open = o.List[:0], o.open[:0]
}

// Add takes a token, unless there are Most already.
func (o *Operands) Add(t Token) {
	if len(o.List) >= o.Most {
		o.Full = true
		return
	}
	switch t.Kind {
	case Open:
		o.open = append(o.open, len(o.List))
	case Shut:
		if n := len(o.open); n > 0 {
			at := o.open[n-1]
			o.List[at].Span = len(o.List) - at - 1
			o.open = o.open[:n-1]
		}
		return
	}
	o.List = append(o.List, t)
}

// Settle closes what was left open when the operator came.
func (o *Operands) Settle() {
	for _, at := range o.open {
		o.List[at].Span = len(o.List) - at - 1
	}
	o.open = o.open[:0]
}

// Numbers takes the last n operands, all of which have to be numbers.
func (o *Operands) Numbers(n int) (v [6]float64, ok bool) {
	if len(o.List) < n {
		return v, false
	}
	for i, t := range o.List[len(o.List)-n:] {
		if t.Kind != Number {
			return v, false
		}
		v[i] = t.Num
	}
	return v, true
}

// Last gives the last operand if it is of the kind.
func (o *Operands) Last(k ...Kind) (Token, bool) {
	if len(o.List) == 0 {
		return Token{}, false
	}
	t := o.List[len(o.List)-1]
	for _, k := range k {
		if t.Kind == k {
			return t, true
		}
	}
	return Token{}, false
}

// Name gives the last operand if it is a name, its #xx undone.
func (o *Operands) Name() (string, bool) {
	t, ok := o.Last(Name)
	return t.NameString(), ok
}

// DictOf reads the tokens of a dictionary, starting after its opening token, as a
// map from key to the index of the value.
func DictOf(list []Token) map[string]int {
	m := map[string]int{}
	for i := 0; i+1 < len(list); {
		if list[i].Kind != Name {
			i += 1 + list[i].Span
			continue
		}
		m[list[i].NameString()] = i + 1
		i += 2 + list[i+1].Span
	}
	return m
}

// IsOperand tells the words that are values from operators.
func IsOperand(word []byte) bool {
	return len(word) >= 4 && (string(word) == "true" || string(word) == "false" || string(word) == "null")
}
