package icc

import (
	"encoding/json"
	"fmt"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"stoneproof/checks/checktest/outside"
)

// installed are the profiles of this machine, as some packages bring them.
func installed(t testing.TB) []string {
	t.Helper()
	var files []string
	for _, root := range []string{"/usr/share/color", "/usr/share/ghostscript", "/usr/share/texlive", "/usr/share/texmf"} {
		filepath.WalkDir(root, func(path string, _ fs.DirEntry, err error) error {
			if ext := strings.ToLower(filepath.Ext(path)); err == nil && (ext == ".icc" || ext == ".icm") {
				files = append(files, path)
			}
			return nil
		})
	}
	if len(files) == 0 {
		t.Skip("no profiles are installed")
	}
	return files
}

// Profiles that the world uses can be read, and have no more trouble than old
// ones are known for.
func TestInstalledProfiles(t *testing.T) {
	for _, file := range installed(t) {
		b, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		p, err := Parse(b)
		if err != nil {
			t.Errorf("%s: %v", file, err)
			continue
		}
		if p.Description == "" || p.IDStated != p.IDMatches {
			t.Errorf("%s: description %q, ID stated %v, matches %v", file, p.Description, p.IDStated, p.IDMatches)
		}
		for _, s := range p.Trouble {
			if !strings.HasPrefix(s, "its illuminant") && !strings.HasPrefix(s, "it lacks tags") {
				t.Errorf("%s: %s", file, s)
			}
		}
		if name := strings.ToLower(filepath.Base(file)); name == "srgb.icc" && !p.SRGB() {
			t.Errorf("%s is not sRGB", file)
		}
	}
}

// facts are a profile's fields in the words of exiftool.
type facts struct {
	SourceFile, ProfileClass, ColorSpaceData, ProfileConnectionSpace string
	ProfileVersion, RenderingIntent                                  int
	ProfileID, ProfileDescription                                    string
}

// Header and description agree with exiftool's reading of the same bytes: our
// own drafts, and what is installed.
func TestAgreesWithExiftool(t *testing.T) {
	exiftool := outside.Tool(t, "exiftool")
	var files []string
	t.Run("installed", func(t *testing.T) { files = installed(t) })
	dir := t.TempDir()
	for name, d := range map[string]draft{"screen.icc": screen(), "press.icc": press()} {
		file := filepath.Join(dir, name)
		if err := os.WriteFile(file, d.bytes(), 0o600); err != nil {
			t.Fatal(err)
		}
		files = append(files, file)
	}
	// Numbers and signatures as they are, for all files at once.
	out, err := exec.Command(exiftool, append([]string{"-j", "-n", "-ICC_Profile:all"}, files...)...).Output()
	if err != nil {
		t.Fatal(err)
	}
	var theirs []facts
	if err := json.Unmarshal(out, &theirs); err != nil || len(theirs) != len(files) {
		t.Fatalf("%d files, %d answers, %v", len(files), len(theirs), err)
	}
	for _, want := range theirs {
		b, err := os.ReadFile(want.SourceFile)
		if err != nil {
			t.Fatal(err)
		}
		p, err := Parse(b)
		if err != nil {
			t.Errorf("%s: %v", want.SourceFile, err)
			continue
		}
		got := inTheirWords(p)
		got.SourceFile = want.SourceFile
		want.ProfileDescription = strings.TrimSpace(want.ProfileDescription)
		if p.IDStated {
			want.ProfileDescription = got.ProfileDescription // version 4: theirs is in the last language
		} else {
			want.ProfileID = got.ProfileID // version 2: reserved
		}
		if got != want {
			t.Errorf("\n got %+v\nwant %+v", got, want)
		}
	}
}

func inTheirWords(p *Profile) facts {
	var major, minor, fix int
	fmt.Sscanf(p.Version, "%d.%d.%d", &major, &minor, &fix)
	return facts{
		ProfileClass: string(p.Class), ColorSpaceData: string(p.Space), ProfileConnectionSpace: string(p.PCS),
		ProfileVersion: major<<8 | minor<<4 | fix, RenderingIntent: int(p.Intent),
		ProfileID: strings.Trim(fmt.Sprint(p.ID), "[]"), ProfileDescription: p.Description,
	}
}
