package roads

import (
	"fmt"
	"strings"
)

const gpxTag = `<gpx version="1.1" creator="testdata/roads" xmlns="http://www.topografix.com/GPX/1/1">`

// AwkwardEntity is the pass with its name taken from an outside address, such
// as file:///etc/hostname, which no reader may open.
func AwkwardEntity(address string) AwkwardFile {
	return refused(spoilt("an outside entity", gpxTag, `<!DOCTYPE gpx [<!ENTITY x SYSTEM "`+address+`">]>`+"\n"+gpxTag, "Awkward pass", "&x;"))
}

// AwkwardDoctype names an outside document type, which no reader needs.
func AwkwardDoctype(address string) AwkwardFile {
	return spoilt("an outside document type", gpxTag, `<!DOCTYPE gpx SYSTEM "`+address+`">`+"\n"+gpxTag)
}

// awkwardMarkup are the pass with bad, hostile or unusual XML, and files
// without a road.
func awkwardMarkup() []AwkwardFile {
	bomb := "<!DOCTYPE gpx [<!ENTITY e0 \"lol\">\n"
	for i := 1; i < 12; i++ {
		bomb += fmt.Sprintf("<!ENTITY e%d \"%s\">\n", i, strings.Repeat(fmt.Sprintf("&e%d;", i-1), 10))
	}
	d := AwkwardPass()
	plain := string(d.GPX())
	at := strings.Index(plain, "<trkpt lat=") + 60_000 // inside some tag or other
	at += strings.Index(plain[at:], `" lon=`)
	return []AwkwardFile{
		refused(spoilt("an entity bomb", gpxTag, bomb+"]>\n"+gpxTag, "Awkward pass", "&e11;")),
		AwkwardEntity("file:///etc/hostname"),
		refused(spoilt("a bare ampersand", "Awkward pass", "Awkward pass & back")),
		refused(AwkwardFile{Name: "cut in the middle of a tag", Data: []byte(plain[:at])}),
		refused(AwkwardFile{Name: "waypoints only", Data: []byte(xmlDeclaration + gpxTag + strings.Repeat(`<wpt lat="0.1" lon="-25"><ele>5</ele></wpt>`, 40) + "</gpx>")}),
		spoilt("missing namespace", ` xmlns="http://www.topografix.com/GPX/1/1"`, ""),
		spoilt("another namespace", `topografix.com/GPX/1/1`, `example.invalid/x`),
		refused(spoilt("decimal commas in positions", `lat="-0.`, `lat="-0,`)),
	}
}
