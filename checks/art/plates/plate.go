package plates

// A plate is one ink of the press. The mask plate is none: it stands for the
// brightness that a soft mask is made of.
type plate struct {
	process int    // 0 to 3 for cyan, magenta, yellow, black; else -1
	name    string // colorant, as in the file
	mask    bool
}

const notProcess = -1

// processNames are the colorants of the process inks as files name them (8.6.6.4).
var processNames = [4]string{"Cyan", "Magenta", "Yellow", "Black"}

const black = 3

// processIndex gives the place of a process colorant, or notProcess.
func processIndex(colorant string) int {
	for i, n := range processNames {
		if n == colorant {
			return i
		}
	}
	return notProcess
}

func processPlates() []plate {
	var list []plate
	for i, n := range processNames {
		list = append(list, plate{process: i, name: n})
	}
	return list
}

func spotPlate(name string) plate { return plate{process: notProcess, name: name} }

func maskPlate() plate { return plate{process: notProcess, mask: true} }

// title is the plate's name for people.
func (p plate) title() string {
	if p.process != notProcess {
		return [4]string{"cyan", "magenta", "yellow", "black"}[p.process]
	}
	return p.name
}

// overprint is how paint treats the inks that it does not name (8.6.7).
type overprint struct {
	on   bool
	mode int // OPM
}

// spares tells whether paint of the colour leaves the plate as it is, by Table 149
// with overprint on, and by 8.6.6.4 for the colorant None. Direct tells that the
// colour is the current colour itself: the nonzero overprint mode is for nothing
// else, and for DeviceCMYK alone.
func (p plate) spares(s *space, v []float64, o overprint, direct bool) bool {
	if s.paintsNothing() {
		return true
	}
	if !o.on || p.mask {
		return false
	}
	ink, named := s.ink(v, p)
	if !named {
		return true
	}
	return direct && o.mode == 1 && s.family == cmyk && s.device && ink == 0
}
