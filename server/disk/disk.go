// Package disk makes sure that what was written is still there after a loss of power.
package disk

import (
	"errors"
	"fmt"
	"os"
)

// Sync puts a file's bytes, or a folder's names, on disk.
func Sync(path string) error {
	f, err := os.Open(path)
	if err != nil {
		return fmt.Errorf("put on disk: %w", err)
	}
	if err := errors.Join(f.Sync(), f.Close()); err != nil {
		return fmt.Errorf("put on disk: %w", err)
	}
	return nil
}
