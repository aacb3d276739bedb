package read

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
)

// ReadFile reads a whole file of at most [MaxBytes]. The error says in plain words what
// is wrong and what to do; it wraps the system's.
func ReadFile(path string) ([]byte, error) {
	info, err := os.Stat(path)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return nil, &FileError{path, "there is no such file", err}
	case errors.Is(err, fs.ErrPermission):
		return nil, &FileError{path, "no permission to read it", err}
	case err != nil:
		return nil, &FileError{path, "cannot be read: " + cause(err), err}
	case info.IsDir():
		return nil, &FileError{path, "this is a folder; name a file in it", fs.ErrInvalid}
	case !info.Mode().IsRegular():
		return nil, &FileError{path, "this is not a regular file", fs.ErrInvalid}
	case info.Size() > MaxBytes:
		return nil, &FileError{path, tooLong(info.Size()), fs.ErrInvalid}
	}
	f, err := os.Open(path)
	if err != nil {
		if errors.Is(err, fs.ErrPermission) {
			return nil, &FileError{path, "no permission to read it", err}
		}
		return nil, &FileError{path, "cannot be read: " + cause(err), err}
	}
	defer f.Close() // only read from
	// The file may have grown since it was measured.
	data, err := io.ReadAll(io.LimitReader(f, MaxBytes+1))
	if err != nil {
		return nil, &FileError{path, "cannot be read: " + cause(err), err}
	}
	if len(data) > MaxBytes {
		return nil, &FileError{path, tooLong(int64(len(data))), fs.ErrInvalid}
	}
	return data, nil
}

// FileError tells why a file could not be read.
type FileError struct {
	Path, Why string
	Err       error
}

// Error says which file cannot be read, and why.
func (e *FileError) Error() string { return e.Path + ": " + e.Why }

// Unwrap returns the system's error.
func (e *FileError) Unwrap() error { return e.Err }

func tooLong(size int64) string {
	return fmt.Sprintf("the file has %d bytes, over the limit of %d (1 MiB); check that this is the right file", size, MaxBytes)
}

func cause(err error) string {
	var pe *fs.PathError
	if errors.As(err, &pe) {
		return pe.Err.Error()
	}
	return err.Error()
}
