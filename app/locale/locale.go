// Package locale gives the program a language the window's library can read
// where the machine names none, as "C" does; the library would otherwise
// complain on standard error at every start, batch commands included. It acts
// on being imported, and must be initialised before the library: Go initialises
// packages in the order of their import paths once what they import is ready,
// and this one needs nothing but os.
package locale

import "os"

func init() {
	for _, name := range []string{"LC_ALL", "LC_MESSAGES", "LANG"} {
		if v := os.Getenv(name); v != "" {
			if plain(v) {
				break
			}
			return
		}
	}
	// Failing leaves the complaint, no more.
	_ = os.Setenv("LC_ALL", "en_GB.UTF-8")
}

// plain reports whether a locale names no language.
func plain(v string) bool {
	return v == "C" || v == "POSIX" || len(v) > 2 && v[:2] == "C."
}
