package batch

import (
	"fmt"
	"runtime"
	"strings"

	"pullbook/catalog/store"
	"pullbook/imaging"
)

// Version is the program's version; FyneApp.toml says the same.
const Version = "0.1.0"

// version is what --version prints: the program, what its scores were computed
// by, what its catalogues are kept with, and what it was built with.
func version() string {
	return fmt.Sprintf("pullbook %s\nmeasuring method %s\ncatalogue schema %d, SQLite %s\nGo %s, %s/%s\n",
		Version, imaging.Method, store.SchemaVersion, store.SQLiteVersion(),
		strings.TrimPrefix(runtime.Version(), "go"), runtime.GOOS, runtime.GOARCH)
}
