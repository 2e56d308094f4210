package gate

import (
	"bufio"
	"encoding/json"
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"
)

// start runs a gate in a process of its own and returns once it is at work.
func (c child) start(t testing.TB) *exec.Cmd {
	t.Helper()
	text, err := json.Marshal(c)
	if err != nil {
		t.Fatal(err)
	}
	cmd := exec.Command(os.Args[0])
	cmd.Env = append(os.Environ(), childVar+"="+string(text))
	cmd.Stderr = os.Stderr
	out, err := cmd.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	if _, err := bufio.NewReader(out).ReadString('\n'); err != nil {
		t.Fatal("the gate did not begin: ", err)
	}
	return cmd
}

// kills is how often gates are killed while files pour in.
const kills = 200

// filesPerKill is as many files as come while one gate lives.
const filesPerKill = 5

// TestKilled kills gates at random moments while files pour in, one gate or two at a
// time, and then counts: every file is in exactly one place, as it came, and no art is
// anywhere without its whole report.
func TestKilled(t *testing.T) {
	n := kills
	if testing.Short() {
		n = 10
	}
	s := newSite(t)
	if disk := t.TempDir(); deviceAt(t, disk) != deviceAt(t, s.intake) {
		s.held = disk // so that half of the files are copied
	}
	c := child{Site: [3]string{s.intake, s.cleared, s.held}, Judge: 3 * time.Millisecond, Most: 20 << 10}
	p := &pouring{t: t, s: s, want: map[string]string{}, stop: make(chan struct{}), more: make(chan int, 1)}
	var wg sync.WaitGroup
	wg.Go(p.pour)
	wg.Go(p.writeSlowly)
	for k := 0; k < n; k++ {
		p.more <- filesPerKill
		gates := []*exec.Cmd{c.start(t)}
		if k%4 == 0 {
			gates = append(gates, c.start(t))
		}
		time.Sleep(rand.N(30 * time.Millisecond))
		for _, cmd := range gates {
			cmd.Process.Kill()
			cmd.Wait()
		}
		if k%20 == 0 {
			s.count(t, false)
		}
	}
	close(p.stop)
	wg.Wait()
	c.Once = true
	if err := c.start(t).Wait(); err != nil {
		t.Fatal("the last gate: ", err)
	}
	s.count(t, true).wants(t, p.want)
	moved, torn := s.moves(t)
	t.Logf("%d gates killed, %d files, %d torn lines in the journal", n+n/4, len(p.want), torn)
	for text, place := range p.want {
		places := moved[sumOf(text)]
		if len(places) != 1 {
			t.Errorf("the journal says that %q was moved to %v", text, places)
		}
		for to := range places {
			if !within(to, s.root(place)) || gone(to) {
				t.Errorf("the journal says that %q is at %s", text, to)
			}
		}
	}
}

// root is the folder that a place in a tally begins with.
func (s site) root(place string) string {
	for _, root := range []string{s.cleared, s.held} {
		if strings.HasPrefix(place, filepath.Base(root)) {
			return root
		}
	}
	return s.intake
}

func deviceAt(t *testing.T, path string) uint64 {
	d, err := deviceOf(path)
	if err != nil {
		t.Fatal(err)
	}
	return d
}

// pouring lays files into the intake until it is stopped, and knows where each of them
// must end.
type pouring struct {
	t    *testing.T
	s    site
	stop chan struct{}
	more chan int // so many files may come
	mu   sync.Mutex
	want map[string]string
}

func (p *pouring) expect(text, root string) {
	p.mu.Lock()
	defer p.mu.Unlock()
	p.want[text] = filepath.Base(root) + "/"
}

// pour drops files whole, under names that come again: good and bad ones, cut off, in
// folders, and pairs.
func (p *pouring) pour() {
	for n, may := 0, 0; ; n, may = n+1, may-1 {
		for may <= 0 {
			select {
			case <-p.stop:
				return
			case may = <-p.more:
			}
		}
		time.Sleep(rand.N(8 * time.Millisecond))
		name := fmt.Sprintf("card-%d.pdf", n%30)
		text := fmt.Sprint(n)
		switch n % 7 {
		case 0:
			p.dropNew(name, text+" BAD END", p.s.held)
		case 1:
			p.dropNew(name, text+" cut o", p.s.held)
		case 2:
			p.dropNew(filepath.Join(fmt.Sprintf("shop-%d", n%3), name), text+" END", p.s.cleared)
		case 3:
			// One card: it goes as a whole, and the back does not fit.
			base := fmt.Sprintf("unfit-%d", n)
			p.expect(text+" back END", p.s.held)
			p.expect(text+" front END", p.s.held)
			p.s.drop(p.t, base+"-front.pdf", text+" front END")
			p.s.drop(p.t, base+"-back.pdf", text+" back END")
		default:
			p.dropNew(name, text+" END", p.s.cleared)
		}
	}
}

// dropNew drops a file, but not onto another: whoever laid that there would have lost
// it by himself. A dead gate's claim may come back to the name at any moment, so the
// file is linked, not renamed.
func (p *pouring) dropNew(name, text, root string) {
	p.expect(text, root)
	path := filepath.Join(p.s.intake, name)
	if err := os.MkdirAll(filepath.Dir(path), 0o777); err != nil {
		p.t.Error(err)
	}
	beside := filepath.Join(p.s.intake, ".dropping")
	if err := os.WriteFile(beside, []byte(text), 0o666); err != nil {
		p.t.Error(err)
	}
	if err := os.Link(beside, path); err != nil { // the name is taken
		if err := os.Rename(beside, filepath.Join(filepath.Dir(path), text+".pdf")); err != nil {
			p.t.Error(err)
		}
		return
	}
	os.Remove(beside)
}

// writeSlowly writes files that pause for longer than a settle time.
func (p *pouring) writeSlowly() {
	for n := 0; ; n++ {
		select {
		case <-p.stop:
			return
		default:
		}
		text := fmt.Sprintf("slow %d END", n)
		f, err := os.OpenFile(filepath.Join(p.s.intake, fmt.Sprintf("slow-%d.pdf", n)), os.O_CREATE|os.O_EXCL|os.O_WRONLY, 0o666)
		if err != nil {
			p.t.Error(err)
			return
		}
		for _, piece := range strings.SplitAfter(text, " ") {
			f.WriteString(piece)
			time.Sleep(40 * time.Millisecond)
		}
		f.Close()
		if machine() == "" {
			os.Remove(f.Name()) // here nobody can tell that it was open
			continue
		}
		p.expect(text, p.s.cleared)
	}
}
