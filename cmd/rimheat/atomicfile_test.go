package main

import (
	"os"
	"path/filepath"
	"testing"
)

func TestWriteFile(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "figure.svg")
	for _, text := range []string{"first", "second, which is longer", ""} {
		if err := writeFile(path, []byte(text)); err != nil {
			t.Fatal(err)
		}
		if got, err := os.ReadFile(path); err != nil || string(got) != text {
			t.Errorf("holds %q, %v; want %q", got, err, text)
		}
	}
	if files := filesIn(t, dir); len(files) != 1 {
		t.Errorf("left behind: %q", files)
	}
}

func TestWriteFileKeepsMode(t *testing.T) {
	path := filepath.Join(t.TempDir(), "figure.svg")
	if err := os.WriteFile(path, []byte("old"), 0o600); err != nil {
		t.Fatal(err)
	}
	if err := writeFile(path, []byte("new")); err != nil {
		t.Fatal(err)
	}
	st, err := os.Stat(path)
	if err != nil || st.Mode().Perm() != 0o600 {
		t.Errorf("mode %v, %v", st.Mode(), err)
	}
}

// A link stays a link, and the file behind it is the one written.
func TestWriteFileFollowsLinks(t *testing.T) {
	dir := t.TempDir()
	real, link := filepath.Join(dir, "real.svg"), filepath.Join(dir, "link.svg")
	if err := os.WriteFile(real, []byte("old"), 0o666); err != nil {
		t.Fatal(err)
	}
	if err := os.Symlink(real, link); err != nil {
		t.Skip("no links here: ", err)
	}
	if err := writeFile(link, []byte("new")); err != nil {
		t.Fatal(err)
	}
	if text, _ := os.ReadFile(real); string(text) != "new" {
		t.Errorf("the file behind the link holds %q", text)
	}
	if st, err := os.Lstat(link); err != nil || st.Mode()&os.ModeSymlink == 0 {
		t.Error("the link is gone")
	}
}

// Where the file cannot be put, the check and the writing say so, the old file
// stays and nothing is left.
func TestWriteFileFailures(t *testing.T) {
	dir := t.TempDir()
	folder := filepath.Join(dir, "folder.svg")
	if err := os.Mkdir(folder, 0o777); err != nil {
		t.Fatal(err)
	}
	for name, path := range map[string]string{
		"no such folder":     filepath.Join(dir, "missing", "a.svg"),
		"a folder":           folder,
		"a file as a folder": filepath.Join(fileWith(t, ""), "a.svg"),
	} {
		if err := checkWritable(path); err == nil {
			t.Errorf("%s: the check passes", name)
		}
		if err := writeFile(path, []byte("x")); err == nil {
			t.Errorf("%s: the writing passes", name)
		}
	}
	if files := filesIn(t, dir); len(files) != 1 {
		t.Errorf("left behind: %q", files)
	}
}

func TestReadOnlyFolder(t *testing.T) {
	if os.Geteuid() == 0 {
		t.Skip("permissions do not stop this user")
	}
	dir := t.TempDir()
	path := filepath.Join(dir, "a.svg")
	if err := os.WriteFile(path, []byte("old"), 0o666); err != nil {
		t.Fatal(err)
	}
	if err := os.Chmod(dir, 0o555); err != nil {
		t.Fatal(err)
	}
	defer os.Chmod(dir, 0o777)
	if checkWritable(path) == nil || writeFile(path, []byte("new")) == nil {
		t.Error("a read-only folder passes")
	}
	if text, err := os.ReadFile(path); err != nil || string(text) != "old" {
		t.Errorf("the old file holds %q, %v", text, err)
	}
}

// The check leaves no trace.
func TestCheckWritable(t *testing.T) {
	dir := t.TempDir()
	if err := checkWritable(filepath.Join(dir, "a.svg")); err != nil {
		t.Fatal(err)
	}
	if files := filesIn(t, dir); len(files) != 0 {
		t.Errorf("left behind: %q", files)
	}
}
