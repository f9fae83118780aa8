package photo

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
)

// Drop removes what has arrived of a picture for a shop, and the whole picture too
// unless it is still named: whole ones are kept once for all shops. What is not
// there need not be removed.
func (s *Store) Drop(shop, hash string, named bool) error {
	if !isHash(hash) || !isFolder(shop) {
		return notOurs()
	}
	lock := s.lock(hash)
	lock.Lock()
	defer lock.Unlock()
	names := []string{s.part(shop, hash)}
	if !named {
		names = append(names, s.whole(hash))
	}
	for _, name := range names {
		err := os.Remove(name)
		if errors.Is(err, fs.ErrNotExist) {
			continue
		}
		if err == nil {
			err = syncFolder(filepath.Dir(name))
		}
		if err != nil {
			return asFault("remove photo", err)
		}
	}
	return nil
}
