package main

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"unicode"
)

type file struct {
	name string
	data []byte
}

// writeAll writes the files into a folder, making it if need be. Every file is first
// written beside its place; only when all are there are they renamed over it. So no reader
// ever sees half a file, and a disk that is full leaves the old drawings as they were.
func writeAll(dir string, files []file) error {
	if err := os.MkdirAll(dir, 0o755); err != nil {
		return fmt.Errorf("cannot make the output folder %s: %w; name another with --out", dir, plain(err))
	}
	var temps []string
	defer func() {
		for _, t := range temps {
			os.Remove(t) // what was renamed is not there any more
		}
	}()
	for _, f := range files {
		t, err := writeBeside(filepath.Join(dir, f.name), f.data)
		if err != nil {
			return fmt.Errorf("cannot write into %s: %w; name another folder with --out", dir, plain(err))
		}
		temps = append(temps, t)
	}
	for i, f := range files {
		if err := os.Rename(temps[i], filepath.Join(dir, f.name)); err != nil {
			return fmt.Errorf("cannot write %s: %w; name another folder with --out", filepath.Join(dir, f.name), plain(err))
		}
	}
	return nil
}

// writeNew writes one file whole or not at all, over an old one only with force.
func writeNew(path string, data []byte, force bool) error {
	info, err := os.Lstat(path)
	switch {
	case err == nil && info.IsDir():
		return fmt.Errorf("%s is a folder; name a file with --out", path)
	case err == nil && !force:
		return fmt.Errorf("%s is there already; name another file, or write over it with --force", path)
	case err != nil && !errors.Is(err, fs.ErrNotExist):
		return fmt.Errorf("cannot write %s: %w", path, plain(err))
	}
	temp, err := writeBeside(path, data)
	if err != nil {
		return fmt.Errorf("cannot write %s: %w", path, plain(err))
	}
	defer os.Remove(temp) // gone when all went well
	if force {
		err = os.Rename(temp, path)
	} else {
		err = os.Link(temp, path) // fails if somebody made the file since
		if err != nil && !errors.Is(err, fs.ErrExist) {
			err = os.Rename(temp, path) // a file system without links
		}
	}
	if err != nil {
		return fmt.Errorf("cannot write %s: %w", path, plain(err))
	}
	return nil
}

// writeBeside writes data into a new file in the folder of path and returns its name.
func writeBeside(path string, data []byte) (name string, err error) {
	tmp, err := os.CreateTemp(filepath.Dir(path), ".dryfit-*")
	if err != nil {
		return "", err
	}
	defer func() {
		if err != nil {
			os.Remove(tmp.Name())
		}
	}()
	if _, err = tmp.Write(data); err != nil {
		tmp.Close()
		return "", err
	}
	if err = tmp.Chmod(0o644); err != nil {
		tmp.Close()
		return "", err
	}
	if err = tmp.Close(); err != nil {
		return "", err
	}
	return tmp.Name(), nil
}

// fileName joins words to a file name that is safe in every file system: letters, digits
// and dots stay, all else becomes a hyphen, and nothing leads out of the folder.
func fileName(words ...string) string {
	var b strings.Builder
	hyphen := false
	for _, r := range strings.Join(words, "-") {
		if unicode.IsLetter(r) || unicode.IsDigit(r) || r == '.' && b.Len() > 0 {
			if hyphen && b.Len() > 0 {
				b.WriteByte('-')
			}
			b.WriteRune(r)
			hyphen = false
			continue
		}
		hyphen = true
	}
	if b.Len() == 0 {
		return "build"
	}
	return b.String()
}

// print writes to standard output. A write that fails is told when the verb has ended.
func (e *env) print(data []byte) error {
	_, err := e.out.Write(data)
	return err
}
