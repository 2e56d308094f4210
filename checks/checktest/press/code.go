package press

import "strings"

// codeOfQuarterPast is the clock mender's web address, https://quarterpast.example, as
// a QR code of version 3 with error correction M: # is dark.
const codeOfQuarterPast = `
#######.....#.#...##..#######
#.....#...##....##....#.....#
#.###.#..###..##.#....#.###.#
#.###.#....###..#.#.#.#.###.#
#.###.#..#.##....##...#.###.#
#.....#.###....##.##..#.....#
#######.#.#.#.#.#.#.#.#######
.........#.###.####.#........
#..#.##.##..#.#.#....#.#.....
.##..#.#.#...#.####.#.#..#..#
###.#.##..##.###..####...###.
...###.###..##..#....#....##.
.#...##..##.#.##.#.#####.#.##
#...#...#.#..####..#.#.......
...##.#....#.##..#...##.#####
#........#.#...#.#.##..#.#.#.
##.#..#..###.#...#.#.#.....#.
..##.#.##.#######.....##.#..#
#..##.##..#.#.###.....###..##
.....#.#....#.#..###.#.....##
#.##..#..###...#.##.#####.#..
........#..##.##....#...#.###
#######...#.#...##..#.#.#..#.
#.....#.#.#...##.#..#...###.#
#.###.#...##....#...#####....
#.###.#.#.#.##.#.#.#..#.###.#
#.###.#......#.####..#..###.#
#.....#..#...##.######.....#.
#######.######.##.#.#...#..#.
`

// codeModules is how many modules it has a side.
const codeModules = 29

// code draws the code in the square of side mm about c: each row's dark runs, as one
// shape.
func (d *draft) code(c pt, side float64, k ink) {
	rows := strings.Fields(codeOfQuarterPast)
	m := side / float64(len(rows))
	var shape path
	for j, row := range rows {
		for i := 0; i < len(row); i++ {
			from := i
			for i < len(row) && row[i] == '#' {
				i++
			}
			if i > from {
				run := rect{c.x - side/2 + float64(from)*m, c.y - side/2 + float64(j)*m, float64(i-from) * m, m}
				shape = join(shape, run.path())
			}
		}
	}
	d.fill(shape, k)
}
