package gate

import (
	"crypto/rand"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"time"
)

// ours is the folder in intake and destinations that holds what a gate needs; its
// name is hidden, so that neither people nor gates take it for art.
const ours = ".stoneproof"

// claimer tells who holds claims. It stands in the claimer's folder for others to
// read.
type claimer struct {
	ID      string  `json:"id"`
	Host    string  `json:"host"`
	PID     int     `json:"pid"`
	Started string  `json:"started,omitempty"` // of the process, as the kernel tells it
	Machine string  `json:"machine,omitempty"` // on which process numbers mean the same
	Beat    float64 `json:"beat_seconds"`      // how often its heartbeat is renewed
}

// beatsToDie is how many heartbeats a gate on another machine may miss: half a minute
// at the usual beat outlasts a slow network, and is soon enough for a file.
const beatsToDie = 6

func newClaimer(beat time.Duration) claimer {
	host := hostName()
	return claimer{
		ID:   fmt.Sprintf("%s-%d-%s", host, os.Getpid(), randomHex()),
		Host: host, PID: os.Getpid(), Started: processStart(os.Getpid()), Machine: machine(), Beat: beat.Seconds(),
	}
}

// hostName is the machine's name, as far as it may stand in a file's name.
func hostName() string {
	host, err := os.Hostname()
	if err != nil {
		host = ""
	}
	host = strings.Map(func(r rune) rune {
		if r >= 'a' && r <= 'z' || r >= 'A' && r <= 'Z' || r >= '0' && r <= '9' || r == '-' {
			return r
		}
		return -1
	}, host)
	if host == "" {
		return "machine"
	}
	return host[:min(len(host), 40)]
}

func randomHex() string {
	var b [4]byte
	rand.Read(b[:])
	return hex.EncodeToString(b[:])
}

// running tells whether a claimer's process still runs, if that can be known here.
func running(c claimer) (alive, known bool) {
	here := machine()
	if here == "" || c.Machine != here || c.Started == "" {
		return false, false
	}
	return processStart(c.PID) == c.Started, true
}

// registry is the folder of all claims, and one gate's place in it.
type registry struct {
	folder  string // intake/.stoneproof/claims
	beat    time.Duration
	running func(claimer) (alive, known bool)

	mu  sync.Mutex
	me  claimer
	dir string // folder/me.ID

	others map[string]pulse // used by the one that looks for the dead alone
}

// pulse is how another's heartbeat looks from here. Clocks of two machines are never
// compared: what counts is whether it changes while this gate watches.
type pulse struct {
	last  time.Time // what its heartbeat file says
	since time.Time // by our clock
	alive bool      // seen to change
}

// join makes a place of its own for this gate. It is named last, so that who finds it
// finds it whole.
func (r *registry) join() error {
	me := newClaimer(r.beat)
	text, err := json.Marshal(me)
	if err != nil {
		return err
	}
	unnamed := filepath.Join(r.folder, "."+me.ID)
	if err := os.Mkdir(unnamed, 0o777); err != nil {
		return err
	}
	if err := os.WriteFile(filepath.Join(unnamed, claimerFile), text, 0o666); err != nil {
		return err
	}
	if err := os.WriteFile(filepath.Join(unnamed, beatFile), nil, 0o666); err != nil {
		return err
	}
	dir := filepath.Join(r.folder, me.ID)
	if err := os.Rename(unnamed, dir); err != nil {
		return err
	}
	r.mu.Lock()
	defer r.mu.Unlock()
	r.me, r.dir = me, dir
	return nil
}

// Files of a claimer's folder beside its claims.
const (
	claimerFile = "claimer.json"
	beatFile    = "beat"
	takenPrefix = "taken-" // a dead gate's folder, in that of the gate that took it over
)

// place is this gate's folder. A gate that slept so long that others took it for dead
// finds its folder gone, and begins anew.
func (r *registry) place() (string, claimer, error) {
	r.mu.Lock()
	dir, me := r.dir, r.me
	r.mu.Unlock()
	if dir != "" && !gone(dir) {
		return dir, me, nil
	}
	if err := r.join(); err != nil {
		return "", me, err
	}
	r.mu.Lock()
	defer r.mu.Unlock()
	return r.dir, r.me, nil
}

// pulse renews the heartbeat. It asks for no room on the disk.
func (r *registry) renew(now time.Time) {
	r.mu.Lock()
	dir := r.dir
	r.mu.Unlock()
	os.Chtimes(filepath.Join(dir, beatFile), now, now)
}

// leave takes this gate's folder away, unless it still holds claims.
func (r *registry) leave() {
	r.mu.Lock()
	defer r.mu.Unlock()
	removeClaimer(r.dir)
}

// removeClaimer removes a claimer's folder if nothing is left in it but its own card.
func removeClaimer(dir string) error {
	entries, err := os.ReadDir(dir)
	if err != nil {
		return err
	}
	for _, e := range entries {
		if e.IsDir() {
			return fmt.Errorf("%q still holds claims", dir)
		}
	}
	for _, e := range entries {
		os.Remove(filepath.Join(dir, e.Name()))
	}
	return os.Remove(dir)
}

// dead lists the claimers that are no more. unsure tells whether there are some of
// whom that is not known yet.
func (r *registry) dead(now time.Time) (dead []string, unsure bool, err error) {
	entries, err := os.ReadDir(r.folder)
	if err != nil {
		return nil, false, err
	}
	mine, me, err := r.place()
	if err != nil {
		return nil, false, err
	}
	present := map[string]pulse{}
	for _, e := range entries {
		name := e.Name()
		if name == me.ID || !e.IsDir() {
			continue
		}
		p, isDead := r.judge(name, mine, now)
		if isDead {
			dead = append(dead, name)
			continue
		}
		present[name] = p
		unsure = unsure || !p.alive && holdsClaims(filepath.Join(r.folder, name))
	}
	r.others = present
	return dead, unsure, nil
}

func (r *registry) judge(name, mine string, now time.Time) (p pulse, dead bool) {
	dir := filepath.Join(r.folder, name)
	var c claimer
	text, err := os.ReadFile(filepath.Join(dir, claimerFile))
	if err == nil && json.Unmarshal(text, &c) == nil {
		if alive, known := r.running(c); known {
			return pulse{alive: alive}, !alive
		}
	}
	if err != nil && r.unfinished(name, mine) {
		return pulse{}, true
	}
	var last time.Time
	if info, err := os.Stat(filepath.Join(dir, beatFile)); err == nil {
		last = info.ModTime()
	}
	p, met := r.others[name]
	switch {
	case !met:
		p = pulse{last: last, since: now}
	case !p.last.Equal(last):
		p = pulse{last: last, since: now, alive: true}
	}
	beat := max(r.beat, time.Duration(c.Beat*float64(time.Second)))
	return p, now.Sub(p.since) >= beatsToDie*beat
}

// unfinished reports whether a folder is that of a gate that died before it had named
// its place: such a folder holds no art. Its age is told from this gate's own folder, for
// one file system's clock wrote both times.
func (r *registry) unfinished(name, mine string) bool {
	its, err := os.Stat(filepath.Join(r.folder, name))
	own, errOwn := os.Stat(mine)
	return err == nil && errOwn == nil && strings.HasPrefix(name, ".") &&
		own.ModTime().Sub(its.ModTime()) >= beatsToDie*r.beat
}

func holdsClaims(dir string) bool {
	entries, _ := os.ReadDir(dir)
	for _, e := range entries {
		if e.IsDir() {
			return true
		}
	}
	return false
}

// take moves a dead gate's folder into this gate's own by one rename, so that but one
// takes it, and whoever was thought dead finds it gone. What the dead had taken
// itself is laid beside it. It is no error if another was quicker.
func (r *registry) take(name string) error {
	mine, _, err := r.place()
	if err != nil {
		return err
	}
	to := filepath.Join(mine, takenPrefix+strings.TrimPrefix(name, "."))
	if err := os.Rename(filepath.Join(r.folder, name), to); err != nil {
		if errors.Is(err, fs.ErrNotExist) {
			return nil
		}
		return err
	}
	entries, err := os.ReadDir(to)
	if err != nil {
		return err
	}
	for _, e := range entries {
		if strings.HasPrefix(e.Name(), takenPrefix) {
			if err := os.Rename(filepath.Join(to, e.Name()), filepath.Join(mine, e.Name())); err != nil {
				return err
			}
		}
	}
	return nil
}

// taken lists the folders that this gate took over and has not emptied yet.
func (r *registry) taken() ([]string, error) {
	mine, _, err := r.place()
	if err != nil {
		return nil, err
	}
	entries, err := os.ReadDir(mine)
	if err != nil {
		return nil, err
	}
	var dirs []string
	for _, e := range entries {
		if e.IsDir() && strings.HasPrefix(e.Name(), takenPrefix) {
			dirs = append(dirs, filepath.Join(mine, e.Name()))
		}
	}
	return dirs, nil
}
