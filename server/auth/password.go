package auth

import (
	"context"
	"crypto/rand"
	"crypto/subtle"
	"encoding/base64"
	"fmt"
	"strings"
	"time"
	"unicode/utf8"

	"golang.org/x/crypto/argon2"

	"strutcard/calc/lang"
	"strutcard/sync/fault"
)

// Cost of one hash. Source: OWASP Password Storage Cheat Sheet, argon2id with
// m = 19 MiB, t = 2, p = 1.
const (
	memoryKiB = 19 * 1024
	rounds    = 2
	lanes     = 1
	saltLen   = 16
	keyLen    = 32
)

// Length of a password, in characters and in bytes.
const (
	minPassword = 10
	maxPassword = 200
)

// Passwords hashes and checks passwords, a few at a time: each takes memory.
type Passwords struct {
	slots chan struct{}
	wait  time.Duration
	dummy string
}

// NewPasswords allows the given number of hashes at once; others wait, then are
// told that the server is busy.
func NewPasswords(atOnce int, wait time.Duration) *Passwords {
	p := &Passwords{slots: make(chan struct{}, atOnce), wait: wait}
	p.dummy = encode(derive("no such password", make([]byte, saltLen), memoryKiB, rounds, lanes), make([]byte, saltLen))
	return p
}

// Hash returns a password's digest in the usual argon2 text form.
func (p *Passwords) Hash(ctx context.Context, password string) (string, error) {
	if n := utf8.RuneCountInString(password); n < minPassword || len(password) > maxPassword {
		return "", fault.New(fault.Invalid, lang.F("A password has at least %d characters. Nothing was changed.", minPassword),
			"A short sentence is easy to keep in mind.")
	}
	if err := p.enter(ctx); err != nil {
		return "", err
	}
	defer p.leave()
	salt := make([]byte, saltLen)
	_, _ = rand.Read(salt) // never fails
	return encode(derive(password, salt, memoryKiB, rounds, lanes), salt), nil
}

// Check reports whether password fits digest. An empty digest stands for nobody:
// it takes the same time and never fits.
func (p *Passwords) Check(ctx context.Context, password, digest string) (bool, error) {
	if len(password) > maxPassword {
		return false, nil
	}
	if err := p.enter(ctx); err != nil {
		return false, err
	}
	defer p.leave()
	known := digest != ""
	if !known {
		digest = p.dummy
	}
	fits, err := verify(password, digest)
	return fits && known, err
}

func (p *Passwords) enter(ctx context.Context) error {
	ctx, cancel := context.WithTimeout(ctx, p.wait)
	defer cancel()
	select {
	case p.slots <- struct{}{}:
		return nil
	case <-ctx.Done():
		return fault.Wrap(ctx.Err(), fault.Busy, "Too many people are signing in at once. Nothing was changed.", "Try again in a minute.")
	}
}

func (p *Passwords) leave() { <-p.slots }

func derive(password string, salt []byte, memory, time uint32, threads uint8) []byte {
	return argon2.IDKey([]byte(password), salt, time, memory, threads, keyLen)
}

func encode(key, salt []byte) string {
	b64 := base64.RawStdEncoding.EncodeToString
	return fmt.Sprintf("$argon2id$v=%d$m=%d,t=%d,p=%d$%s$%s", argon2.Version, memoryKiB, rounds, lanes, b64(salt), b64(key))
}

// verify uses the costs in the digest, so that old digests work after the costs rise.
func verify(password, digest string) (bool, error) {
	parts := strings.Split(digest, "$")
	if len(parts) != 6 || parts[1] != "argon2id" {
		return false, fmt.Errorf("password digest has an unknown form")
	}
	var version int
	var memory, time uint32
	var threads uint8
	if _, err := fmt.Sscanf(parts[2], "v=%d", &version); err != nil || version != argon2.Version {
		return false, fmt.Errorf("password digest has an unknown version")
	}
	if _, err := fmt.Sscanf(parts[3], "m=%d,t=%d,p=%d", &memory, &time, &threads); err != nil || time < 1 || threads < 1 {
		return false, fmt.Errorf("password digest has broken costs")
	}
	salt, err := base64.RawStdEncoding.DecodeString(parts[4])
	if err != nil {
		return false, fmt.Errorf("password digest has a broken salt: %w", err)
	}
	want, err := base64.RawStdEncoding.DecodeString(parts[5])
	if err != nil || len(want) != keyLen {
		return false, fmt.Errorf("password digest has a broken key")
	}
	return subtle.ConstantTimeCompare(derive(password, salt, memory, time, threads), want) == 1, nil
}
