package main

import (
	"archive/tar"
	"compress/gzip"
	"fmt"
	"io"
	"os"
	"time"
)

// writeTarball writes the tree below one folder named after the version:
// unpacked anywhere the program runs, and with --strip-components=1 into
// /usr/local or ~/.local it is installed.
func (r *release) writeTarball(path string, tree []file) (err error) {
	out, err := os.Create(path)
	if err != nil {
		return err
	}
	defer func() {
		if e := out.Close(); err == nil {
			err = e
		}
	}()
	z, err := gzip.NewWriterLevel(out, gzip.BestCompression)
	if err != nil {
		return err
	}
	if err := writeTar(z, fmt.Sprintf("%s-%s/", r.command(), r.Version), tree, r.made); err != nil {
		return err
	}
	return z.Close()
}

// writeTar writes files below a folder, all of one time and of nobody.
func writeTar(w io.Writer, folder string, tree []file, made time.Time) error {
	t := tar.NewWriter(w)
	for _, f := range tree {
		h := &tar.Header{Name: folder + f.path, Mode: int64(f.mode), Size: int64(len(f.data)), ModTime: made, Format: tar.FormatPAX}
		if err := t.WriteHeader(h); err != nil {
			return err
		}
		if _, err := t.Write(f.data); err != nil {
			return err
		}
	}
	return t.Close()
}
