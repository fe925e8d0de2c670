package entry

import (
	"bufio"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
)

// WriteFile makes one file by way of a temporary name in its folder, so that a
// file under its own name is always whole. The folder is made if need be.
func WriteFile(path string, fill func(io.Writer) error) (err error) {
	if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
		return fmt.Errorf("the folder for %s cannot be made: %w", filepath.Base(path), err)
	}
	f, err := os.CreateTemp(filepath.Dir(path), ".part-*")
	if err != nil {
		return fmt.Errorf("%s cannot be written: %w", filepath.Base(path), err)
	}
	defer func() {
		if err != nil {
			err = errors.Join(fmt.Errorf("%s was not written: %w", filepath.Base(path), err), os.Remove(f.Name()))
		}
	}()
	w := bufio.NewWriterSize(f, 1<<16)
	if err = fill(w); err == nil {
		err = w.Flush()
	}
	if err = errors.Join(err, f.Close()); err != nil {
		return err
	}
	if err = os.Chmod(f.Name(), 0o644); err != nil {
		return err
	}
	return os.Rename(f.Name(), path)
}

// WriteJSON writes a value as indented JSON, without escaping < and >.
func WriteJSON(path string, v any) error {
	return WriteFile(path, func(w io.Writer) error {
		e := json.NewEncoder(w)
		e.SetEscapeHTML(false)
		e.SetIndent("", " ")
		return e.Encode(v)
	})
}
