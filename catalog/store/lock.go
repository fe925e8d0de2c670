package store

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"time"

	"pullbook/catalog/say"

	"github.com/gofrs/flock"
)

// takeLock makes this the only writer. When somebody else is, or the folder
// cannot be written to, the catalogue becomes read-only and notice says why.
// The operating system's lock decides, not the presence of the file; what is
// written in it only names the holder. Where the lock is not enough, signs of
// life are given and looked for besides.
func (s *Store) takeLock() error {
	if s.readOnly {
		return nil
	}
	path := filepath.Join(s.dir, LockFile)
	lock := flock.New(path, flock.SetFlag(os.O_CREATE|os.O_RDWR), flock.SetPermissions(0o644))
	got, err := lock.TryLock()
	switch {
	case err == nil && got:
		s.lock = lock
		host, _ := os.Hostname()
		text := fmt.Sprintf("%s\n%s\n%d\n%s\n", orUnnamed(s.options.Who), host, os.Getpid(), s.options.Now().UTC().Format(time.RFC3339))
		// Only the sentence for the next opener depends on this; a full
		// disk must not keep anybody from reading their catalogue.
		_ = os.WriteFile(path, []byte(text), 0o644)
		if s.options.noLocks || onNetwork(s.dir) {
			s.say("This catalogue is on another computer. Such disks may let two people enter at once or lose what was last entered when the connection breaks: open it in one place only, and keep a copy.")
			s.giveSigns()
		}
		return nil
	case err == nil:
		s.readOnly = true
		s.say("This catalogue is already open%s. It is shown here for reading only; close it there to enter anything here.", holderOf(path))
		return nil
	case errors.Is(err, fs.ErrPermission), errors.Is(err, syscall.EROFS):
		s.readOnly = true
		s.say("The catalogue's folder cannot be written to, so it is shown for reading only. Copy it to a place where you may write to enter anything.")
		return nil
	case errors.Is(err, syscall.ENOSYS), errors.Is(err, syscall.ENOTSUP), errors.Is(err, syscall.ENOLCK), errors.Is(err, syscall.EINVAL):
		s.say("The disk this catalogue is on cannot keep two people from entering at once. Open it in one place only.")
		s.giveSigns()
		return nil
	}
	return unopened(s.dir, TroubleAccess, "The catalogue in %s cannot be opened: its lock cannot be taken (%v).", s.dir, err)
}

func (s *Store) dropLock() {
	s.endSigns()
	if s.lock != nil {
		_ = s.lock.Unlock() // closing the descriptor releases it in any case
		s.lock = nil
	}
}

// holderOf says who wrote the lock file, as part of a sentence.
func holderOf(path string) say.Sentence {
	b, err := os.ReadFile(path)
	if err != nil {
		return say.Sentence{}
	}
	lines := strings.Split(string(b), "\n")
	if len(lines) < 4 {
		return say.Sentence{}
	}
	t, err := time.Parse(time.RFC3339, lines[3])
	if err != nil {
		return say.Of(": by %s on the computer %s (process %s)", lines[0], lines[1], lines[2])
	}
	t = t.Local()
	return say.Of(": by %s on the computer %s (process %s, since %s, %s)", lines[0], lines[1], lines[2], say.Day(t), t.Format("15:04"))
}

func orUnnamed(who string) string {
	if who = strings.Join(strings.Fields(who), " "); who == "" {
		return "somebody"
	}
	return who
}
