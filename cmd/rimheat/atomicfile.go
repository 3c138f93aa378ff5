package main

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
)

// writeFile puts data into path so that a reader sees either the old file or
// the whole new one: a temporary file in the same folder, synced, then renamed
// over the old one. When anything fails the old file stays as it was and no
// temporary file is left.
func writeFile(path string, data []byte) (err error) {
	path, mode, err := resolve(path)
	if err != nil {
		return err
	}
	f, err := temporary(path, mode)
	if err != nil {
		return err
	}
	defer func() {
		if err != nil {
			f.Close() // a second Close only gives an error
			os.Remove(f.Name())
		}
	}()
	if _, err = f.Write(data); err != nil {
		return err
	}
	if err = f.Sync(); err != nil {
		return err
	}
	if err = f.Close(); err != nil {
		return err
	}
	return os.Rename(f.Name(), path)
}

// checkWritable says now what writeFile would say later, and leaves nothing
// behind.
func checkWritable(path string) error {
	path, mode, err := resolve(path)
	if err != nil {
		return err
	}
	if _, err := os.Stat(path); err == nil {
		f, err := os.OpenFile(path, os.O_WRONLY, 0)
		if err != nil {
			return err
		}
		f.Close()
	}
	f, err := temporary(path, mode)
	if err != nil {
		return err
	}
	f.Close()
	return os.Remove(f.Name())
}

// resolve follows links, so that they stay links, and gives the mode that the
// file has or, where there is none yet, shall have before the umask.
func resolve(path string) (string, fs.FileMode, error) {
	if real, err := filepath.EvalSymlinks(path); err == nil {
		path = real
	}
	st, err := os.Stat(path)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return path, 0o666, nil
	case err != nil:
		return path, 0, err
	case st.IsDir():
		return path, 0, errors.New("is a folder")
	case !st.Mode().IsRegular():
		return path, 0, errors.New("is no regular file")
	}
	return path, st.Mode().Perm(), nil
}

// temporary creates a new file beside path.
func temporary(path string, mode fs.FileMode) (*os.File, error) {
	dir, base := filepath.Split(path)
	const tries = 100
	for i := range tries {
		name := filepath.Join(dir, fmt.Sprintf(".%s.%d-%d.tmp", base, os.Getpid(), i))
		f, err := os.OpenFile(name, os.O_WRONLY|os.O_CREATE|os.O_EXCL, mode)
		if !errors.Is(err, fs.ErrExist) {
			return f, err
		}
	}
	return nil, errors.New("too many temporary files in the folder")
}

// reason words an error of the file system without the operation and the path,
// which the message already gives.
func reason(err error) string {
	var pe *fs.PathError
	var le *os.LinkError
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return "no such file or folder"
	case errors.As(err, &pe):
		return pe.Err.Error()
	case errors.As(err, &le):
		return le.Err.Error()
	}
	return err.Error()
}
