package gate

import "time"

// drained reports whether --once has done all that it can.
func (g *Gate) drained() bool {
	if g.busy > 0 || len(g.queue) > 0 || !g.fresh || g.unsure {
		return false
	}
	var left []string
	for _, l := range g.looks {
		switch {
		case g.looked(l):
		case l.stuck:
			left = append(left, l.rel+": "+l.why)
		case time.Since(l.first) > patienceTimes*g.cfg.Settle && !g.settles(l).Before(time.Now()):
			left = append(left, l.rel+": it is still being written")
		default:
			return false
		}
	}
	if g.unfinished != nil {
		left = append(left, g.say(g.unfinished))
	}
	g.outcome.Left = left
	return true
}
