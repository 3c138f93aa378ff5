//go:build linux

package main

import (
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
)

// tinyDisk mounts a disk of so many bytes, which only root can.
func tinyDisk(t *testing.T, options string, flags uintptr) string {
	t.Helper()
	dir := t.TempDir()
	if err := syscall.Mount("tmpfs", dir, "tmpfs", flags, options); err != nil {
		t.Skipf("no disk can be mounted here: %v", err)
	}
	t.Cleanup(func() {
		if err := syscall.Unmount(dir, syscall.MNT_DETACH); err != nil {
			t.Error(err)
		}
	})
	return dir
}

// A disk that is full, or a folder that cannot be written to, leaves every old file as
// it was, leaves nothing beside them, and is told in plain words.
func TestOutputsOnABadDisk(t *testing.T) {
	for _, c := range []struct {
		name, words string
		code        int
		readOnly    bool
	}{
		{"full", "no space left on device", exitFailed, false},
		{"read-only", "read-only file system", exitInput, true},
	} {
		t.Run(c.name, func(t *testing.T) {
			dir := tinyDisk(t, "size=64k", 0)
			args := []string{"assess", road("two_passes_hot.gpx"), "--samples", "100"}
			old := map[string]string{}
			for _, p := range products() {
				ending := p.flag
				if p.endings != nil {
					ending = p.endings[0]
				}
				path := filepath.Join(dir, p.flag+"."+ending)
				old[path] = "old " + p.flag
				if err := os.WriteFile(path, []byte(old[path]), 0o666); err != nil {
					t.Fatal(err)
				}
				args = append(args, "--"+p.flag, path)
			}
			files := filesIn(t, dir)
			if c.readOnly {
				if err := syscall.Mount("", dir, "", syscall.MS_REMOUNT|syscall.MS_RDONLY, ""); err != nil {
					t.Fatal(err)
				}
			} else {
				fill(t, filepath.Join(dir, "filling"))
				files = append(files, "filling")
			}
			got := runWith("", args...)
			if got.code != c.code || !strings.Contains(got.errOut, c.words) || got.out != "" {
				t.Errorf("code %d, stderr %q, %d bytes on stdout", got.code, got.errOut, len(got.out))
			}
			for path, text := range old {
				if now, err := os.ReadFile(path); err != nil || string(now) != text {
					t.Errorf("%s holds %.20q, %v", filepath.Base(path), now, err)
				}
			}
			if now := filesIn(t, dir); len(now) != len(files) {
				t.Errorf("in the folder are %q, before %q", now, files)
			}
		})
	}
}

// fill takes all room on a disk but for the last page.
func fill(t *testing.T, path string) {
	t.Helper()
	f, err := os.Create(path)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	for {
		if _, err := f.Write(make([]byte, 4096)); err != nil {
			return
		}
	}
}
