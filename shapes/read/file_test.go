package read

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

func TestReadFile(t *testing.T) {
	dir := t.TempDir()
	good, big, locked := filepath.Join(dir, "good.yaml"), filepath.Join(dir, "big.yaml"), filepath.Join(dir, "locked.yaml")
	for path, size := range map[string]int{good: 10, big: MaxBytes + 1, locked: 1} {
		if err := os.WriteFile(path, make([]byte, size), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	if data, err := ReadFile(good); err != nil || len(data) != 10 {
		t.Errorf("%d bytes, %v", len(data), err)
	}
	for path, say := range map[string]string{filepath.Join(dir, "none.yaml"): "no such file", dir: "a folder", big: "over the limit"} {
		_, err := ReadFile(path)
		var fe *FileError
		if !errors.As(err, &fe) || !strings.Contains(err.Error(), say) || !strings.HasPrefix(err.Error(), path) {
			t.Errorf("%s: %v", path, err)
		}
	}
	if _, err := ReadFile(filepath.Join(dir, "none.yaml")); !errors.Is(err, fs.ErrNotExist) {
		t.Errorf("does not wrap the cause: %v", err)
	}
	if err := os.Chmod(locked, 0); err != nil {
		t.Fatal(err)
	}
	if _, err := os.Open(locked); err == nil {
		t.Skip("this user reads everything")
	}
	if _, err := ReadFile(locked); err == nil || !strings.Contains(err.Error(), "no permission") {
		t.Errorf("locked: %v", err)
	}
}
