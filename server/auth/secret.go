package auth

import (
	"crypto/rand"
	"crypto/sha256"
	"encoding/base64"
	"encoding/hex"
)

// NewSecret returns 128 random bits for a link or a cookie, 22 characters that
// need no escaping in a URL.
func NewSecret() string {
	raw := make([]byte, 16)
	_, _ = rand.Read(raw) // never fails
	return base64.RawURLEncoding.EncodeToString(raw)
}

// Digest is what is kept of a secret. A plain hash is enough: nobody can guess
// 128 bits.
func Digest(secret string) string {
	sum := sha256.Sum256([]byte(secret))
	return hex.EncodeToString(sum[:])
}
