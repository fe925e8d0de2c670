package main

import (
	"crypto/md5"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
)

// writeDeb writes the Debian package (Debian Policy 5.3, 10.1; deb(5)).
func (r *release) writeDeb(path string, tree []file) error {
	dir, err := os.MkdirTemp("", "pullbook-deb-")
	if err != nil {
		return err
	}
	defer os.RemoveAll(dir)
	if err := os.Chmod(dir, 0o755); err != nil { // it becomes the root folder
		return err
	}
	needs, err := r.needs()
	if err != nil {
		return err
	}
	var sums strings.Builder
	size := 0
	for _, f := range tree {
		if err := write(filepath.Join(dir, "usr", filepath.FromSlash(f.path)), f.data, f.mode); err != nil {
			return err
		}
		fmt.Fprintf(&sums, "%x  usr/%s\n", md5.Sum(f.data), f.path)
		size += (len(f.data) + 1023) / 1024
	}
	if err := write(filepath.Join(dir, "DEBIAN", "control"), []byte(r.control(needs, size)), 0o644); err != nil {
		return err
	}
	if err := write(filepath.Join(dir, "DEBIAN", "md5sums"), []byte(sums.String()), 0o644); err != nil {
		return err
	}
	cmd := exec.Command("dpkg-deb", "--root-owner-group", "-Zxz", "--build", dir, path)
	// What dpkg-deb writes bears this time, in its archive and in its members.
	cmd.Env = append(os.Environ(), "SOURCE_DATE_EPOCH="+strconv.FormatInt(r.made.Unix(), 10))
	if out, err := cmd.CombinedOutput(); err != nil {
		return fmt.Errorf("dpkg-deb: %w\n%s", err, out)
	}
	return nil
}

// write writes a file with its folders, readable by all whatever the umask.
func write(path string, data []byte, mode os.FileMode) error {
	if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
		return err
	}
	if err := os.WriteFile(path, data, mode); err != nil {
		return err
	}
	return os.Chmod(path, mode)
}

// maintainer has no address that answers yet; ".invalid" says so (RFC 2606).
const maintainer = "The Pullbook Authors <authors@pullbook.invalid>"

// control is the package's description; size is in KiB.
func (r *release) control(needs []string, size int) string {
	return fmt.Sprintf(`Package: %s
Version: %s
Architecture: %s
Maintainer: %s
Installed-Size: %d
Depends: %s
Section: graphics
Priority: optional
Description: %s
 %s
 .
 It needs no network and no service: a catalogue is one folder, kept with
 SQLite, and every photograph in it stays as it was. Without a window the
 same is done by commands.
`, r.command(), r.Version, r.arch, maintainer, size, strings.Join(needs, ", "), strings.ToLower(r.GenericName), wrapped(r.Comment+".", 76))
}

// wrapped breaks a text into lines of at most width letters, as the description
// of a package wants them: each after a space (Debian Policy 5.6.13).
func wrapped(text string, width int) string {
	var b strings.Builder
	length := 0
	for i, word := range strings.Fields(text) {
		switch {
		case i == 0:
		case length+1+len(word) > width:
			b.WriteString("\n ")
			length = 0
		default:
			b.WriteByte(' ')
			length++
		}
		b.WriteString(word)
		length += len(word)
	}
	return b.String()
}

// opened matches the libraries that the window opens by name when it starts,
// which the program's list of libraries does not hold: those of the X server.
var opened = regexp.MustCompile(`libX[A-Za-z0-9-]+\.so\.[0-9]+`)

// needs are the packages with the libraries the program is linked with, as
// dpkg-shlibdeps finds them with their versions, and with those it opens.
func (r *release) needs() ([]string, error) {
	linked, err := r.linked()
	if err != nil {
		return nil, err
	}
	program, err := os.ReadFile(r.program)
	if err != nil {
		return nil, err
	}
	needs := linked
	names := opened.FindAllString(string(program), -1)
	slices.Sort(names)
	for _, lib := range slices.Compact(names) {
		owner, err := output("dpkg-query", "--search", "*/"+lib)
		if err != nil {
			return nil, fmt.Errorf("the program opens %s, which is not on this machine: install it, so that its package can be named", lib)
		}
		pkg, _, _ := strings.Cut(owner, ":")
		if !slices.ContainsFunc(needs, func(n string) bool { return n == pkg || strings.HasPrefix(n, pkg+" ") }) {
			needs = append(needs, pkg)
		}
	}
	slices.Sort(needs)
	return needs, nil
}

// linked asks dpkg-shlibdeps, which wants to stand in a source package.
func (r *release) linked() ([]string, error) {
	dir, err := os.MkdirTemp("", "pullbook-needs-")
	if err != nil {
		return nil, err
	}
	defer os.RemoveAll(dir)
	about := fmt.Sprintf("Source: %[1]s\n\nPackage: %[1]s\nArchitecture: %[2]s\n", r.command(), r.arch)
	if err := write(filepath.Join(dir, "debian", "control"), []byte(about), 0o644); err != nil {
		return nil, err
	}
	program, err := filepath.Abs(r.program)
	if err != nil {
		return nil, err
	}
	cmd := exec.Command("dpkg-shlibdeps", "-O", program)
	cmd.Dir, cmd.Stderr = dir, os.Stderr
	out, err := cmd.Output()
	if err != nil {
		return nil, fmt.Errorf("dpkg-shlibdeps: %w", err)
	}
	_, depends, ok := strings.Cut(strings.TrimSpace(string(out)), "shlibs:Depends=")
	if !ok {
		return nil, fmt.Errorf("dpkg-shlibdeps named nothing: %s", out)
	}
	return strings.Split(depends, ", "), nil
}
