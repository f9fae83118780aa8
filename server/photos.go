package server

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"

	"strutcard/server/disk"
)

// photoDir is where a data folder keeps its photos: photos/ab/ab…, each named by
// its SHA-256 and never changed. Uploads that are not complete lie in
// photos/partial and are no part of a backup: the phone sends them again.
const photoDir = "photos"

var photoPath = regexp.MustCompile(`^([0-9a-f]{2})/([0-9a-f]{64})$`)

// errDamaged is a photo that is not what its name says.
var errDamaged = errors.New("not what its name says")

// copyPhotos brings every complete photo of one data folder to another. A damaged
// one is left out and named: the phone that took it may still hold it.
func copyPhotos(ctx context.Context, from, to string, bring func(from, to string) error, kept *Kept) error {
	from, to = filepath.Join(from, photoDir), filepath.Join(to, photoDir)
	photos, err := photosIn(from)
	if err != nil {
		return fmt.Errorf("list photos: %w", err)
	}
	folders := map[string]bool{}
	for _, photo := range photos {
		if err := ctx.Err(); err != nil {
			return err
		}
		target := filepath.Join(to, filepath.FromSlash(photo))
		if err := os.MkdirAll(filepath.Dir(target), 0o700); err != nil {
			return fmt.Errorf("make folder for photos: %w", err)
		}
		folders[filepath.Dir(target)], folders[to] = true, true
		switch err := bring(filepath.Join(from, filepath.FromSlash(photo)), target); {
		case errors.Is(err, errDamaged):
			kept.Damaged = append(kept.Damaged, filepath.Base(target))
		case err != nil:
			return fmt.Errorf("copy photo: %w", err)
		default:
			kept.Photos++
		}
	}
	for folder := range folders {
		if err := disk.Sync(folder); err != nil {
			return err
		}
	}
	return nil
}

// photosIn lists the complete photos below dir by their paths in it.
func photosIn(dir string) (photos []string, err error) {
	err = fs.WalkDir(os.DirFS(dir), ".", func(path string, d fs.DirEntry, err error) error {
		switch {
		case path == "." && errors.Is(err, fs.ErrNotExist):
			return fs.SkipAll // no photo was ever sent
		case err != nil:
			return err
		case d.Type().IsRegular() && photoPath.MatchString(path):
			photos = append(photos, path)
		}
		return nil
	})
	return photos, err
}

// linkPhoto gives a photo a second name, which costs no room, or copies it where
// the disk cannot do that.
func linkPhoto(from, to string) error {
	if err := os.Link(from, to); err == nil {
		return nil
	}
	return copyPhoto(from, to)
}

// copyPhoto copies a photo if it is what its name says.
func copyPhoto(from, to string) error {
	hash, err := copyFile(from, to)
	if err != nil {
		return err
	}
	if hash != filepath.Base(from) {
		return errors.Join(errDamaged, os.Remove(to))
	}
	return nil
}

// copyFile puts a copy on disk and returns the SHA-256 of what it read.
func copyFile(from, to string) (hash string, err error) {
	in, err := os.Open(from)
	if err != nil {
		return "", err
	}
	defer func() { _ = in.Close() }()
	out, err := os.OpenFile(to, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o600)
	if err != nil {
		return "", err
	}
	sum := sha256.New()
	_, err = io.Copy(io.MultiWriter(out, sum), in)
	if err == nil {
		err = out.Sync()
	}
	return hex.EncodeToString(sum.Sum(nil)), errors.Join(err, out.Close())
}
