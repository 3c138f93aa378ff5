package route_test

import (
	"bytes"
	"net"
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"sync/atomic"
	"testing"
	"time"

	"rimheat/route"
	"rimheat/testdata/roads"
)

// awkward is the awkward file of a name.
func awkward(t *testing.T, name string) []byte {
	t.Helper()
	for _, f := range roads.AwkwardFiles() {
		if f.Name == name {
			return f.Data
		}
	}
	t.Fatalf("no awkward file is called %q", name)
	return nil
}

// TestSameRoadSameProfile: what changes nothing about the road changes not a
// bit of its profile, but for the name, the repairs, the points counted and the
// track as the file gives it.
func TestSameRoadSameProfile(t *testing.T) {
	if testing.Short() {
		t.Skip("takes some seconds")
	}
	want := mustLoad(t, roads.AwkwardPass().GPX())
	for _, name := range []string{
		"UTF-16, big-endian, with mark", "UTF-16 without mark and declaration", "byte-order mark", "Latin-1 declared as UTF-8", "Latin-1 declared right",
		"CRLF", "a huge name", "missing namespace", "every point twice",
		"two segments and an empty one between", "segments of one point", "a segment without length between",
		"a track and a route of the same road", "a route before its track", "a route alone", "the track twice",
		"a right clock", "another zone", "mixed zones", "a frozen clock", "a backward clock", "a clock that jumps", "a clock from 1970 and 2100", "times that are none",
	} {
		got := mustLoad(t, awkward(t, name))
		got.Name, got.Repairs, got.Points, got.Track = want.Name, want.Repairs, want.Points, want.Track
		if !reflect.DeepEqual(got, want) {
			t.Errorf("%s: another profile", name)
		}
	}
}

// TestZonesChangeNothing: the same instants in other offsets give the same
// track, point by point and to the instant.
func TestZonesChangeNothing(t *testing.T) {
	track := func(name string) *route.Track {
		tr, err := route.Read(bytes.NewReader(awkward(t, name)), "r.gpx", route.Options{})
		if err != nil {
			t.Fatal(err)
		}
		return tr
	}
	want := track("a right clock")
	for i, p := range want.Points {
		if at := roads.AwkwardStart.Add(time.Duration(i) * roads.AwkwardStep); p.Time != at {
			t.Fatalf("point %d at %v, want %v", i+1, p.Time, at)
		}
	}
	for _, name := range []string{"another zone", "mixed zones"} {
		if got := track(name); !reflect.DeepEqual(got, want) {
			t.Errorf("%s: another track", name)
		}
	}
}

// TestReversingGround: tunnels and bridges are found riding the other way, too.
func TestReversingGround(t *testing.T) {
	for _, name := range []string{"tunnel under a rounded ridge", "tunnel under two ridges", "tunnel on a descent", "bridge over a gorge", "bridge on a descent"} {
		tr, err := route.Read(bytes.NewReader(awkward(t, name)), "r.gpx", route.Options{})
		if err != nil {
			t.Fatal(err)
		}
		a, b := profiled(t, tr), profiled(t, reversed(tr))
		const tolM = 1 // the feet are sought outwards from either flank
		if d := a.DropM - b.ClimbM; d > tolM || d < -tolM {
			t.Errorf("%s: drop %.1f m, reversed climb %.1f m", name, a.DropM, b.ClimbM)
		}
		if len(b.Repairs) != 1 || b.Repairs[0].Kind != "tunnel-or-bridge" || len(b.Doubtful) != 1 {
			t.Fatalf("%s reversed: %v, %v", name, b.Repairs, b.Doubtful)
		}
		if d := a.Doubtful[0].StartM - (b.DistanceM - b.Doubtful[0].EndM); d > 15 || d < -15 {
			t.Errorf("%s: begins at %.0f m, reversed ends at %.0f m", name, a.Doubtful[0].StartM, b.DistanceM-b.Doubtful[0].EndM)
		}
	}
}

// TestReadingOpensNothingElse: a file and an address that a document names are
// not touched. The address is one of this test, which counts who comes.
func TestReadingOpensNothingElse(t *testing.T) {
	l, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Skip("no network to listen on:", err)
	}
	var callers atomic.Int32
	done := make(chan struct{})
	go func() {
		defer close(done)
		for {
			c, err := l.Accept()
			if err != nil {
				return
			}
			callers.Add(1)
			c.Close()
		}
	}()
	secret := filepath.Join(t.TempDir(), "secret.txt")
	if err := os.WriteFile(secret, []byte("a-secret-word"), 0o600); err != nil {
		t.Fatal(err)
	}
	for _, address := range []string{"http://" + l.Addr().String() + "/x.dtd", "file://" + secret, secret} {
		tr, err := route.Read(bytes.NewReader(roads.AwkwardEntity(address).Data), "r.gpx", route.Options{})
		if err == nil || !strings.Contains(err.Error(), "&x;") || strings.Contains(err.Error(), "a-secret-word") {
			t.Errorf("entity of %s: %v, %v", address, tr, err)
		}
		tr, err = route.Read(bytes.NewReader(roads.AwkwardDoctype(address).Data), "r.gpx", route.Options{})
		if err != nil || strings.Contains(tr.Name, "a-secret-word") {
			t.Errorf("document type of %s: %v", address, err)
		}
	}
	// A call of our own comes last, so that all before it have been counted.
	c, err := net.Dial("tcp", l.Addr().String())
	if err != nil {
		t.Fatal(err)
	}
	defer c.Close()
	if _, err := c.Read(make([]byte, 1)); err == nil {
		t.Error("an answer where none was given")
	}
	l.Close()
	<-done
	if n := callers.Load(); n != 1 {
		t.Errorf("%d calls to the address that the files name", n-1)
	}
}
