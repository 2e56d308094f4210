package press

import "math"

// lumaTable and chromaTable are the example tables of T.81 K.1, row by row.
var (
	lumaTable = [64]int{
		16, 11, 10, 16, 24, 40, 51, 61, 12, 12, 14, 19, 26, 58, 60, 55,
		14, 13, 16, 24, 40, 57, 69, 56, 14, 17, 22, 29, 51, 87, 80, 62,
		18, 22, 37, 56, 68, 109, 103, 77, 24, 35, 55, 64, 81, 104, 113, 92,
		49, 64, 78, 87, 103, 121, 120, 101, 72, 92, 95, 98, 112, 100, 103, 99,
	}
	chromaTable = [64]int{
		17, 18, 24, 47, 99, 99, 99, 99, 18, 21, 26, 66, 99, 99, 99, 99,
		24, 26, 56, 99, 99, 99, 99, 99, 47, 66, 99, 99, 99, 99, 99, 99,
		99, 99, 99, 99, 99, 99, 99, 99, 99, 99, 99, 99, 99, 99, 99, 99,
		99, 99, 99, 99, 99, 99, 99, 99, 99, 99, 99, 99, 99, 99, 99, 99,
	}
	zigzag  = zigzagOrder()
	cosines = dctCosines()
)

// zigzagOrder lists the places of a block by rising frequency (T.81 figure A.6).
func zigzagOrder() (out [64]int) {
	x, y, dx := 0, 0, 1
	for i := range out {
		out[i] = y*8 + x
		nx, ny := x+dx, y-dx
		switch {
		case dx == 1 && nx > 7:
			nx, ny, dx = 7, y+1, -1
		case dx == 1 && ny < 0:
			ny, dx = 0, -1
		case dx == -1 && ny > 7:
			nx, ny, dx = x+1, 7, 1
		case dx == -1 && nx < 0:
			nx, dx = 0, 1
		}
		x, y = nx, ny
	}
	return out
}

// scaledTable sets a table for a quality of 1 to 100: 50 leaves it as it is.
func scaledTable(base [64]int, quality int) (out [64]int) {
	scale := 200 - 2*quality
	if quality < 50 {
		scale = 5000 / quality
	}
	for i, v := range base {
		out[i] = max(1, min(255, (v*scale+50)/100))
	}
	return out
}

// dctCosines is the matrix of the transform (T.81 A.3.3), its factors included.
func dctCosines() (out [8][8]float64) {
	for u := range out {
		c := .5
		if u == 0 {
			c = math.Sqrt(.125)
		}
		for x := range out[u] {
			out[u][x] = c * math.Cos(float64(2*x+1)*float64(u)*math.Pi/16)
		}
	}
	return out
}

// block transforms and quantizes the block at (x0, y0); beyond the picture its
// last row and column are repeated.
func (e *jpegEncoder) block(plane []float64, x0, y0 int, quant [64]int) (out [64]int) {
	var rows [8][8]float64
	for y := range 8 {
		line := plane[min(e.h-1, y0+y)*e.w:]
		var v [8]float64
		for x := range v {
			v[x] = line[min(e.w-1, x0+x)]
		}
		for u := range 8 {
			rows[y][u] = dot(&cosines[u], &v)
		}
	}
	for u := range 8 {
		var v [8]float64
		for y := range v {
			v[y] = rows[y][u]
		}
		for w := range 8 {
			out[w*8+u] = int(math.Round(dot(&cosines[w], &v) / float64(quant[w*8+u])))
		}
	}
	return out
}

func dot(a, b *[8]float64) float64 {
	return a[0]*b[0] + a[1]*b[1] + a[2]*b[2] + a[3]*b[3] + a[4]*b[4] + a[5]*b[5] + a[6]*b[6] + a[7]*b[7]
}

// huffman is a code made for the symbols' counts.
type huffman struct {
	counts [17]byte // codes of each length, 1 to 16
	order  []byte   // symbols by length, then value
	code   [256]uint32
	length [256]int
}

// newHuffman follows T.81 K.2: merge the two rarest until one is left, with one
// made-up symbol that takes the code of all ones; then no code over 16 bits.
func newHuffman(freq [256]int) huffman {
	const reserved = 256
	var weight, size, next [257]int
	for i := range next {
		next[i] = -1
	}
	copy(weight[:], freq[:])
	weight[reserved] = 1
	for {
		a, b := rarest(&weight)
		if b < 0 {
			break
		}
		weight[a] += weight[b]
		weight[b] = 0
		for _, chain := range []int{a, b} {
			for s := chain; s >= 0; s = next[s] {
				size[s]++
			}
		}
		end := a
		for next[end] >= 0 {
			end = next[end]
		}
		next[end] = b
	}
	return fromSizes(&size)
}

// rarest finds the two least weights above 0; of equals the later symbol.
func rarest(weight *[257]int) (a, b int) {
	a, b = -1, -1
	for i, w := range weight {
		switch {
		case w == 0:
		case a < 0 || w <= weight[a]:
			a, b = i, a
		case b < 0 || w <= weight[b]:
			b = i
		}
	}
	return a, b
}

// fromSizes shortens codes over 16 bits (T.81 figure K.3), drops the made-up
// symbol and hands out codes in order (C.2).
func fromSizes(size *[257]int) (h huffman) {
	var counts [258]int
	for _, n := range size {
		if n > 0 {
			counts[n]++
		}
	}
	for i := len(counts) - 1; i > 16; i-- {
		for counts[i] > 0 {
			j := i - 2
			for counts[j] == 0 {
				j--
			}
			counts[i] -= 2
			counts[i-1]++
			counts[j+1] += 2
			counts[j]--
		}
	}
	last := 16
	for counts[last] == 0 {
		last--
	}
	counts[last]--
	for n := 1; n < len(counts); n++ {
		for s := range 256 {
			if size[s] == n {
				h.order = append(h.order, byte(s))
			}
		}
	}
	code, at := uint32(0), 0
	for n := 1; n <= 16; n++ {
		h.counts[n] = byte(counts[n])
		for range counts[n] {
			h.code[h.order[at]], h.length[h.order[at]] = code, n
			code++
			at++
		}
		code <<= 1
	}
	return h
}

// segment is the table as DHT holds it (T.81 B.2.4.2).
func (h huffman) segment() []byte { return append(h.counts[1:17:17], h.order...) }
