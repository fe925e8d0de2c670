package entry

import (
	"crypto/sha256"
	"fmt"
	"net/url"
	"strings"
)

// Address mints the identifier of a thing: below base when there is one
// ("https://example.org/weir/" gives "https://example.org/weir/object/abc"),
// else a urn:uuid (RFC 9562, version 8) reckoned from kind and id, so that the
// same thing has the same identifier in every export.
func Address(base, kind, id string) string {
	if base != "" {
		return strings.TrimRight(base, "/") + "/" + kind + "/" + url.PathEscape(id)
	}
	h := sha256.Sum256([]byte("pullbook " + kind + " " + id))
	h[6] = h[6]&0x0f | 0x80 // version 8: made by the application
	h[8] = h[8]&0x3f | 0x80 // variant of RFC 9562
	return fmt.Sprintf("urn:uuid:%x-%x-%x-%x-%x", h[0:4], h[4:6], h[6:8], h[8:10], h[10:16])
}
