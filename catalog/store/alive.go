package store

import (
	"encoding/json"
	"io"
	"os"
	"path/filepath"
	"time"

	"pullbook/catalog"
	"pullbook/catalog/archive"
	"pullbook/catalog/say"
)

// Where the operating system's lock cannot be relied on, because the disk is in
// another computer or keeps no locks, whoever enters gives a sign of life in a
// file beside the database, twice a minute, and takes it away when closing. The
// file is looked at before the database is opened: a log that is being written
// on another computer must not be.

const (
	signEvery = 30 * time.Second
	// signHolds is how long a sign of life is believed. The clocks of two
	// computers that differ by more than this defeat it.
	signHolds = 2 * time.Minute
)

// sign is a sign of life.
type sign struct {
	Sitting string    `json:"sitting"` // tells one opening from another
	Who     string    `json:"who"`
	Host    string    `json:"host"`
	At      time.Time `json:"at"`
}

// signOf is the sign of life of somebody else who has the catalogue in a folder
// open; nil when there is none, or it is too old.
func (s *Store) signOf() *sign {
	b, err := os.ReadFile(filepath.Join(s.dir, AliveFile))
	if err != nil {
		return nil
	}
	var other sign
	if json.Unmarshal(b, &other) != nil || other.Sitting == s.mine.Sitting {
		return nil
	}
	// On this computer the lock decides, which we have.
	if s.lock != nil && other.Host == s.mine.Host {
		return nil
	}
	if age := s.options.Now().Sub(other.At).Abs(); age > signHolds {
		return nil
	}
	return &other
}

// said names whoever gave the sign, as part of a sentence.
func (g *sign) said() say.Sentence {
	t := g.At.Local()
	return say.Of("%s on the computer %s (last sign of life %s, %s)", g.Who, g.Host, say.Day(t), t.Format("15:04"))
}

// giveSigns begins to give signs of life, unless somebody else does: then the
// catalogue is for reading only.
func (s *Store) giveSigns() {
	host, _ := os.Hostname()
	s.mine = sign{Sitting: string(catalog.NewID()), Who: orUnnamed(s.options.Who), Host: host}
	if other := s.signOf(); other != nil {
		s.readOnly = true
		s.dropLock()
		s.say("This catalogue is already open: by %s. It is shown here for reading only; close it there to enter anything here, or wait two minutes if it broke off there.", other.said())
		return
	}
	s.giveSign()
	quiet := make(chan struct{})
	s.quiet = quiet
	go func() {
		tick := time.NewTicker(signEvery)
		defer tick.Stop()
		for {
			select {
			case <-quiet:
				return
			case <-tick.C:
				if s.signOf() == nil { // else act says that somebody has come in
					s.giveSign()
				}
			}
		}
	}()
}

// giveSign writes the sign of life; a disk that takes no file keeps nobody from
// reading, and an action will say what is wrong with it.
func (s *Store) giveSign() {
	g := s.mine
	g.At = s.options.Now().UTC().Truncate(time.Second)
	_ = archive.WriteFile(archive.OS{}, filepath.Join(s.dir, AliveFile), func(w io.Writer) error { return json.NewEncoder(w).Encode(g) })
}

// endSigns takes the sign of life away.
func (s *Store) endSigns() {
	if s.quiet == nil {
		return
	}
	close(s.quiet)
	if s.signOf() == nil {
		_ = os.Remove(filepath.Join(s.dir, AliveFile))
	}
	s.quiet = nil
}

// alone gives a sentence when somebody has come into a catalogue that we have
// open.
func (s *Store) alone() error {
	if s.quiet == nil {
		return nil
	}
	if other := s.signOf(); other != nil {
		return say.Errorf("this catalogue has been opened by %s as well; nothing was changed. Two who enter at once would spoil it: close it here or there, and open it again", other.said())
	}
	return nil
}
