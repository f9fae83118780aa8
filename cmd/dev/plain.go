package main

import (
	"encoding/json"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
)

// plainer are files of Go's own library that stand in the phone's program in another
// form. Ids need random bytes, and hashes SHA-256; with them the library brings AES,
// SHA-3, SHA-512 and large numbers, for standards that it cannot keep in a browser
// anyway (FIPS 140, BoringCrypto). What is left is what it does there without those
// modes: the random bytes are the browser's own. "" leaves a file out.
var plainer = map[string]string{
	"crypto/rand/rand.go": `package rand

import (
	"crypto/internal/sysrand"
	"io"
)

type reader struct{}

func (reader) Read(b []byte) (int, error) { return Read(b) }

var Reader io.Reader = reader{}

func Read(b []byte) (int, error) {
	sysrand.Read(b) // ends the program rather than give no randomness
	return len(b), nil
}
`,
	"crypto/rand/util.go": "",
	"crypto/internal/boring/notboring.go": `package boring

import "hash"

const available = false

const never = "boring: not in this program"

func NewSHA224() hash.Hash    { panic(never) }
func NewSHA256() hash.Hash    { panic(never) }
func SHA224([]byte) [28]byte  { panic(never) }
func SHA256([]byte) [32]byte  { panic(never) }
`,
}

// overlaid writes into folder what stands for files of ours and of Go's own in the
// phone's program, and returns the name of a list for the compiler's -overlay.
func overlaid(folder string) (string, error) {
	replace := map[string]string{}
	if err := errors.Join(terseTemplates(folder, replace), plain(folder, replace)); err != nil {
		return "", err
	}
	list, err := json.Marshal(map[string]any{"Replace": replace})
	if err != nil {
		return "", fmt.Errorf("write overlay: %w", err)
	}
	overlay := filepath.Join(folder, "overlay.json")
	return overlay, os.WriteFile(overlay, list, 0o600)
}

// plain writes those files into folder and adds them to an overlay. A file that this
// release of Go no longer has is an error: what it was for may stand elsewhere now.
func plain(folder string, replace map[string]string) error {
	root, err := exec.Command("go", "env", "GOROOT").Output()
	if err != nil {
		return fmt.Errorf("find GOROOT: %w", err)
	}
	for name, code := range plainer {
		from := filepath.Join(strings.TrimSpace(string(root)), "src", filepath.FromSlash(name))
		if _, err := os.Stat(from); err != nil {
			return fmt.Errorf("another release of Go: %w", err)
		}
		if replace[from] = ""; code == "" {
			continue
		}
		replace[from] = filepath.Join(folder, strings.ReplaceAll(name, "/", "_"))
		if err := os.WriteFile(replace[from], []byte(code), 0o600); err != nil {
			return err
		}
	}
	return nil
}
