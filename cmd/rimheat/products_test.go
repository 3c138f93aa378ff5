package main

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"testing"
)

// everyProduct asks for every file that an assessment can make, in every format that it
// can have, and says where they are.
func everyProduct(dir string) (args, paths []string) {
	for _, p := range products() {
		endings := p.endings
		if endings == nil {
			endings = []string{p.flag}
		}
		// A flag has one file a run; the first format stands for all here.
		path := filepath.Join(dir, p.flag+"."+endings[0])
		args, paths = append(args, "--"+p.flag, path), append(paths, path)
	}
	return args, paths
}

// Every product comes out whole, is what its ending says, is the same on any number of
// cores, and leaves what is printed as it was.
func TestEveryProduct(t *testing.T) {
	bare := runWith("", hotDay("--samples", "100")...)
	begins := map[string]string{"png": "\x89PNG", "html": "<!DOCTYPE html>", "gpx": "<?xml", "csv": "distance_m,"}
	var first []string
	for _, cores := range []int{1, 2, 16} {
		before := runtime.GOMAXPROCS(cores)
		args, paths := everyProduct(t.TempDir())
		got := runWith("", append(hotDay("--samples", "100"), args...)...)
		runtime.GOMAXPROCS(before)
		if got.code != exitDone || got.errOut != "" {
			t.Fatalf("code %d, stderr %q", got.code, got.errOut)
		}
		// What would change it is found out for the report, and so is printed too.
		head, rest, _ := strings.Cut(got.out, "\nWhat would change it\n")
		_, tail, _ := strings.Cut(rest, "\nEnergy, kJ")
		if !strings.HasPrefix(bare.out, head) || !strings.HasSuffix(bare.out, tail) {
			t.Error("what is printed differs from a run without files")
		}
		for i, path := range paths {
			b, err := os.ReadFile(path)
			if err != nil {
				t.Fatal(err)
			}
			ending := strings.TrimPrefix(filepath.Ext(path), ".")
			if !bytes.HasPrefix(b, []byte(begins[ending])) || begins[ending] == "" {
				t.Errorf("%s begins with %.20q", filepath.Base(path), b)
			}
			if cores == 1 {
				first = append(first, string(b))
			} else if first[i] != string(b) {
				t.Errorf("on %d cores %s differs", cores, filepath.Base(path))
			}
		}
	}
}

// Every format of every product can be had, of a planned ride in imperial units and of
// a replay without draws.
func TestProductsInEveryFormat(t *testing.T) {
	for _, ride := range [][]string{{"assess", road("drag_hill.gpx"), "--imperial", "--samples", "100"}, {"assess", road("recorded_hill.gpx"), "--replay", "--samples", "0"}} {
		for n := range 3 {
			dir := t.TempDir()
			args, asked := slices.Clone(ride), 0
			for _, p := range products() {
				if n < len(p.endings) && !(p.draws && slices.Contains(ride, "0")) {
					args, asked = append(args, "--"+p.flag, filepath.Join(dir, fmt.Sprintf("%s.%s", p.flag, p.endings[n]))), asked+1
				}
			}
			if got := runWith("", args...); got.code != exitDone || got.errOut != "" {
				t.Errorf("%q: code %d, stderr %q", args, got.code, got.errOut)
			}
			if files := filesIn(t, dir); len(files) != asked {
				t.Errorf("%d files asked for, there are %q", asked, files)
			}
		}
	}
}

// What would change the answer is told where it is asked for, in the reader's units, and
// in JSON.
func TestChanges(t *testing.T) {
	got := runWith("", "assess", road("drag_hill.gpx"), "--samples", "100", "--changes", "--rider-kg", "70", "--stop", "5=10")
	if got.code != exitDone {
		t.Fatalf("code %d, stderr %q", got.code, got.errOut)
	}
	golden(t, "assess_changes", []byte(got.out))
	got = runWith("", "assess", road("drag_hill.gpx"), "--samples", "100", "--changes", "--imperial")
	for _, want := range []string{"22 lb less weight", "air 9 °F cooler", "no faster than 19 mph", "to spare to the nearest limit (less than nothing: over it), °F"} {
		if !strings.Contains(strings.Join(strings.Fields(got.out), " "), want) {
			t.Errorf("--imperial does not say %q", want)
		}
	}
	for _, c := range []struct {
		flags []string
		told  bool
	}{{nil, false}, {[]string{"--changes"}, true}} {
		got := runWith("", append([]string{"assess", road("drag_hill.gpx"), "--samples", "0", "--json"}, c.flags...)...)
		if strings.Contains(got.out, `"outlook"`) != c.told {
			t.Errorf("%q: outlook told: %t", c.flags, !c.told)
		}
	}
}

// A title and a note of the shop stand in the report as they are, and harm nothing.
func TestReportWithAShopsWords(t *testing.T) {
	path := filepath.Join(t.TempDir(), "report.html")
	got := runWith("", "assess", road("drag_hill.gpx"), "--samples", "100", "--report", path, "--title", `<script>x</script>"&`, "--shop-note", "First <b>line</b>\n\nsecond")
	if got.code != exitDone || got.errOut != "" {
		t.Fatalf("code %d, stderr %q", got.code, got.errOut)
	}
	b, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{"&lt;script&gt;x&lt;/script&gt;&#34;&amp;", "First &lt;b&gt;line&lt;/b&gt;", "second", "assumed"} {
		if !bytes.Contains(b, []byte(want)) {
			t.Errorf("the report lacks %q", want)
		}
	}
	for _, bad := range []string{"<script", "--rim-limit", "src=", "href="} {
		if bytes.Contains(b, []byte(bad)) {
			t.Errorf("the report holds %q", bad)
		}
	}
}
