package plates

import (
	"math"

	"github.com/pdfcpu/pdfcpu/pkg/pdfcpu/types"

	"stoneproof/checks/art/pdf/syntax"
)

// A step is one thing that a calculator function does: push a number, run an
// operator, or run one of two procedures.
type step struct {
	op        string // "" pushes number
	number    float64
	then, not []step // of if and ifelse
	one       func(a float64) float64
	two       func(a, b float64) float64
}

const (
	mostSteps = 4_000
	mostStack = 100 // Annex C, Table C.1, for calculator functions
)

// calculator is type 4 (7.10.5). Programs have no loops: they end.
func (j *separation) calculator(o types.Object, outputs int) function {
	l := syntax.Lexer{B: j.content(o)}
	if string(l.Next().Raw) != "{" || outputs == 0 {
		return nil
	}
	left := mostSteps
	program, ok := procedure(&l, 0, &left)
	if !ok {
		return nil
	}
	return func(in []float64) []float64 {
		m := machine{stack: append(make([]float64, 0, mostStack), in...)}
		m.run(program)
		out := make([]float64, outputs)
		copy(out[max(0, outputs-len(m.stack)):], m.stack[max(0, len(m.stack)-outputs):])
		return out
	}
}

// procedure reads up to the closing brace.
func procedure(l *syntax.Lexer, depth int, left *int) (steps []step, ok bool) {
	if depth > mostNested {
		return nil, false
	}
	var blocks [][]step // procedures waiting for their if or ifelse
	for {
		t := l.Next()
		if *left--; *left < 0 {
			return nil, false
		}
		switch word := string(t.Raw); {
		case t.Kind == syntax.End:
			return nil, false
		case t.Kind == syntax.Number:
			steps = append(steps, step{number: t.Num})
		case word == "{":
			block, ok := procedure(l, depth+1, left)
			if !ok {
				return nil, false
			}
			blocks = append(blocks, block)
		case word == "}":
			return steps, len(blocks) == 0
		case word == "if" && len(blocks) == 1:
			steps, blocks = append(steps, step{op: word, then: blocks[0]}), nil
		case word == "ifelse" && len(blocks) == 2:
			steps, blocks = append(steps, step{op: word, then: blocks[0], not: blocks[1]}), nil
		case word == "if" || word == "ifelse":
			return nil, false
		default:
			steps = append(steps, step{op: word, one: unary(word), two: binary(word)})
		}
	}
}

// machine runs a program. Truth is 1 and 0; what a faulty program lacks is 0.
type machine struct{ stack []float64 }

func (m *machine) pop() float64 {
	n := len(m.stack)
	if n == 0 {
		return 0
	}
	v := m.stack[n-1]
	m.stack = m.stack[:n-1]
	return v
}

func (m *machine) push(v float64) {
	if len(m.stack) < mostStack {
		m.stack = append(m.stack, v)
	}
}

func (m *machine) run(program []step) {
	for _, s := range program {
		switch s.op {
		case "":
			m.push(s.number)
		case "if", "ifelse":
			if m.pop() != 0 {
				m.run(s.then)
			} else {
				m.run(s.not)
			}
		default:
			m.compute(s)
		}
	}
}

func (m *machine) compute(s step) {
	switch {
	case s.one != nil:
		m.push(s.one(m.pop()))
	case s.two != nil:
		b, a := m.pop(), m.pop()
		m.push(s.two(a, b))
	default:
		m.shuffle(s.op)
	}
}

// shuffle runs the operators that move things on the stack, and constants.
func (m *machine) shuffle(op string) {
	switch op {
	case "true":
		m.push(1)
	case "false":
		m.push(0)
	case "pop":
		m.pop()
	case "dup":
		v := m.pop()
		m.push(v)
		m.push(v)
	case "exch":
		b, a := m.pop(), m.pop()
		m.push(b)
		m.push(a)
	case "copy":
		n := whole(m.pop())
		if from := len(m.stack) - n; n > 0 && from >= 0 {
			for _, v := range m.stack[from:] {
				m.push(v)
			}
		}
	case "index":
		at := len(m.stack) - 2 - whole(m.pop())
		if at >= 0 && at < len(m.stack) {
			m.push(m.stack[at])
		}
	case "roll":
		by, n := whole(m.pop()), whole(m.pop())
		if n > 0 && n <= len(m.stack) {
			roll(m.stack[len(m.stack)-n:], by)
		}
	}
}

func roll(v []float64, by int) {
	n := len(v)
	was := append([]float64(nil), v...)
	for i, x := range was {
		v[((i+by)%n+n)%n] = x
	}
}

func whole(v float64) int {
	if math.IsNaN(v) {
		return 0
	}
	return int(math.Max(-1<<30, math.Min(1<<30, v)))
}

func truth(b bool) float64 {
	if b {
		return 1
	}
	return 0
}

// unary gives the operators of one operand (Table 42), nil for any other word.
func unary(op string) func(float64) float64 {
	switch op {
	case "abs":
		return math.Abs
	case "ceiling":
		return math.Ceil
	case "floor":
		return math.Floor
	case "sqrt":
		return math.Sqrt
	case "truncate", "cvi":
		return math.Trunc
	case "ln":
		return math.Log
	case "log":
		return math.Log10
	case "neg":
		return func(a float64) float64 { return -a }
	case "cvr":
		return func(a float64) float64 { return a }
	case "round":
		return func(a float64) float64 { return math.Floor(a + 0.5) }
	case "sin":
		return func(a float64) float64 { return math.Sin(a * math.Pi / 180) }
	case "cos":
		return func(a float64) float64 { return math.Cos(a * math.Pi / 180) }
	case "not":
		return func(a float64) float64 { return truth(a == 0) }
	}
	return nil
}

// binary gives the operators of two operands, nil for any other word.
func binary(op string) func(a, b float64) float64 {
	if f := arithmetic(op); f != nil {
		return f
	}
	switch op {
	case "eq":
		return func(a, b float64) float64 { return truth(a == b) }
	case "ne":
		return func(a, b float64) float64 { return truth(a != b) }
	case "gt":
		return func(a, b float64) float64 { return truth(a > b) }
	case "ge":
		return func(a, b float64) float64 { return truth(a >= b) }
	case "lt":
		return func(a, b float64) float64 { return truth(a < b) }
	case "le":
		return func(a, b float64) float64 { return truth(a <= b) }
	case "and":
		return func(a, b float64) float64 { return float64(whole(a) & whole(b)) }
	case "or":
		return func(a, b float64) float64 { return float64(whole(a) | whole(b)) }
	case "xor":
		return func(a, b float64) float64 { return float64(whole(a) ^ whole(b)) }
	}
	return nil
}

func arithmetic(op string) func(a, b float64) float64 {
	switch op {
	case "add":
		return func(a, b float64) float64 { return a + b }
	case "sub":
		return func(a, b float64) float64 { return a - b }
	case "mul":
		return func(a, b float64) float64 { return a * b }
	case "div":
		return quotient
	case "exp":
		return math.Pow
	case "idiv":
		return func(a, b float64) float64 { return math.Trunc(quotient(math.Trunc(a), math.Trunc(b))) }
	case "mod":
		return remainder
	case "atan":
		return func(a, b float64) float64 { return math.Mod(math.Atan2(a, b)*180/math.Pi+360, 360) }
	case "bitshift":
		return func(a, b float64) float64 { return math.Trunc(math.Ldexp(a, whole(b))) }
	}
	return nil
}

func remainder(a, b float64) float64 {
	if math.Trunc(b) == 0 {
		return 0
	}
	return math.Mod(math.Trunc(a), math.Trunc(b))
}

func quotient(a, b float64) float64 {
	if b == 0 {
		return 0
	}
	return a / b
}
