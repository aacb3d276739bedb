package main

import (
	"fmt"
	"os"
	"path/filepath"
)

type file struct {
	name string
	data []byte
}

// writeAll writes the files into a folder, making it if need be. Each is written
// beside its place and renamed over it, so that no reader ever sees half a file; if
// one cannot be written, its temporary file is taken away again.
func writeAll(dir string, files []file) error {
	if err := os.MkdirAll(dir, 0o755); err != nil {
		return fmt.Errorf("cannot make the output folder %s: %w; name another with --out", dir, err)
	}
	for _, f := range files {
		if err := writeOne(filepath.Join(dir, f.name), f.data); err != nil {
			return fmt.Errorf("cannot write into %s: %w; name another folder with --out", dir, err)
		}
	}
	return nil
}

func writeOne(path string, data []byte) (err error) {
	tmp, err := os.CreateTemp(filepath.Dir(path), ".dryfit-*")
	if err != nil {
		return err
	}
	defer func() {
		if err != nil {
			os.Remove(tmp.Name())
		}
	}()
	if _, err = tmp.Write(data); err != nil {
		tmp.Close()
		return err
	}
	if err = tmp.Chmod(0o644); err != nil {
		tmp.Close()
		return err
	}
	if err = tmp.Close(); err != nil {
		return err
	}
	return os.Rename(tmp.Name(), path)
}
