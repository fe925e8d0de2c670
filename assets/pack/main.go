// Command pack makes the release of a built program: a tarball and a Debian
// package, both of one tree of files (the program, its entry on the desktop,
// icons, the type of a packed catalogue, a man page, licences), and the list
// of their hashes. 'sh assets/setup.sh pack' builds the program and calls it
// in the top folder of the repository:
//
//	go run ./assets/pack -program bin/release/pullbook -to dist
//
// Name, version and description come from FyneApp.toml, the news from
// changelog beside this file, the licences from the modules that were built
// into the program, and what it needs of Debian from the program's own list of
// libraries. Nothing but dpkg-deb and dpkg-shlibdeps is asked of the machine.
// The same commit gives the same bytes.
package main

import (
	"crypto/sha256"
	"flag"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"time"
)

func main() {
	program := flag.String("program", "", "the built program")
	to := flag.String("to", "dist", "folder for what is made")
	flag.Parse()
	if err := pack(*program, *to); err != nil {
		fmt.Fprintln(os.Stderr, "pack:", err)
		os.Exit(1)
	}
}

// release is one version of the program about to be packed.
type release struct {
	app
	program string    // path of the built program
	arch    string    // in Debian's words: amd64, arm64
	made    time.Time // of the commit; every file bears it
	news    []byte    // the changelog
}

func pack(program, to string) error {
	r, err := newRelease(program)
	if err != nil {
		return err
	}
	tree, err := r.tree()
	if err != nil {
		return err
	}
	if err := os.MkdirAll(to, 0o755); err != nil {
		return err
	}
	tarball := filepath.Join(to, fmt.Sprintf("%s-%s-linux-%s.tar.gz", r.command(), r.Version, r.arch))
	if err := r.writeTarball(tarball, tree); err != nil {
		return err
	}
	deb := filepath.Join(to, fmt.Sprintf("%s_%s_%s.deb", r.command(), r.Version, r.arch))
	if err := r.writeDeb(deb, tree); err != nil {
		return err
	}
	return writeSums(filepath.Join(to, "SHA256SUMS"), tarball, deb)
}

// newRelease gathers what is said of the program and holds it against what the
// program says of itself.
func newRelease(program string) (*release, error) {
	a, err := readApp("FyneApp.toml")
	if err != nil {
		return nil, err
	}
	r := &release{app: a, program: program}
	said, err := output(program, "--version")
	if err != nil {
		return nil, err
	}
	if first, _, _ := strings.Cut(said, "\n"); first != r.command()+" "+r.Version {
		return nil, fmt.Errorf("FyneApp.toml names version %s, and the program says %q; make them one", r.Version, first)
	}
	if r.news, err = os.ReadFile("assets/pack/changelog"); err != nil {
		return nil, err
	}
	if !strings.HasPrefix(string(r.news), r.command()+" ("+r.Version+") ") {
		return nil, fmt.Errorf("assets/pack/changelog does not begin with version %s; say there what is new", r.Version)
	}
	if r.arch, err = output("dpkg", "--print-architecture"); err != nil {
		return nil, err
	}
	r.made, err = commitTime()
	return r, err
}

// commitTime is when the newest commit was made, which SOURCE_DATE_EPOCH
// overrules (reproducible-builds.org, "SOURCE_DATE_EPOCH").
func commitTime() (time.Time, error) {
	epoch := os.Getenv("SOURCE_DATE_EPOCH")
	if epoch == "" {
		var err error
		if epoch, err = output("git", "log", "-1", "--format=%ct"); err != nil {
			return time.Time{}, err
		}
	}
	n, err := strconv.ParseInt(epoch, 10, 64)
	return time.Unix(n, 0).UTC(), err
}

// output runs a command and gives what it wrote, without the last line end.
func output(name string, args ...string) (string, error) {
	cmd := exec.Command(name, args...)
	cmd.Stderr = os.Stderr
	out, err := cmd.Output()
	if err != nil {
		return "", fmt.Errorf("%s %s: %w", name, strings.Join(args, " "), err)
	}
	return strings.TrimRight(string(out), "\n"), nil
}

// writeSums writes the hashes of files in the form that sha256sum -c reads.
func writeSums(path string, files ...string) error {
	var b strings.Builder
	for _, f := range files {
		data, err := os.ReadFile(f)
		if err != nil {
			return err
		}
		fmt.Fprintf(&b, "%x  %s\n", sha256.Sum256(data), filepath.Base(f))
		fmt.Printf("%s  %.1f MB\n", f, float64(len(data))/1e6)
	}
	return os.WriteFile(path, []byte(b.String()), 0o644)
}
