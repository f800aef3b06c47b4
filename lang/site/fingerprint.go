// A fingerprint of site data.

package site

import (
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"fmt"
)

// Fingerprint gives the SHA-256 of a site, or of a part of one, in hexadecimal: of its data as JSON, places in the text
// included. Equal data have equal fingerprints; a certificate uses it to say which site it speaks of.
func Fingerprint(data any) string {
	b, err := json.Marshal(data)
	if err != nil {
		panic(fmt.Sprintf("site: data that can not be written: %v", err)) // site data are numbers, texts and lists
	}
	sum := sha256.Sum256(b)
	return hex.EncodeToString(sum[:])
}
