package window

import "fyne.io/fyne/v2"

// ownMemory tells the toolkit that it has nothing to remember, for the window
// remembers by itself. The toolkit would else empty and write its own file at
// the end of each day, watch it, and now and then read it while it is empty and
// complain to whoever started the program.
type ownMemory struct{}

// unwritten are the toolkit's preferences in a form it does not save.
type unwritten struct{ fyne.Preferences }

func (ownMemory) ProviderName() string                         { return "Pullbook" }
func (ownMemory) ProviderDescription() string                  { return "what the window remembers by itself" }
func (ownMemory) ProviderIcon() fyne.Resource                  { return nil }
func (ownMemory) Setup(fyne.App) error                         { return nil }
func (ownMemory) Cleanup(fyne.App)                             {}
func (ownMemory) CloudPreferences(a fyne.App) fyne.Preferences { return unwritten{a.Preferences()} }
