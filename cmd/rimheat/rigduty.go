package main

import (
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"os"
	"strconv"
	"strings"

	"rimheat/thermal"
)

const (
	// maxDutyBytes is the greatest size of a duty file.
	maxDutyBytes = 16 << 20
	// maxDutyRows is a row a second for a day.
	maxDutyRows = 86400
)

const dutyHeader = "seconds,watts,kmh"

// readRigFile reads a file that a flag names.
func readRigFile(where, path string, most int64) ([]byte, error) {
	f, err := os.Open(path)
	if err != nil {
		return nil, badInput("%s %s: %s", where, path, reason(err))
	}
	defer f.Close()
	text, err := io.ReadAll(io.LimitReader(f, most+1))
	switch {
	case err != nil:
		return nil, badInput("%s %s: %s", where, path, reason(err))
	case int64(len(text)) > most:
		return nil, badInput("%s %s: larger than %d MiB", where, path, most>>20)
	}
	return text, nil
}

// parseDuty reads rows that each hold for their seconds. The speed of the air
// is left to the caller.
func parseDuty(path string, text []byte, noPads bool) ([]thermal.BenchSpan, error) {
	r := csv.NewReader(bytes.NewReader(bytes.TrimPrefix(text, []byte("\xef\xbb\xbf"))))
	r.FieldsPerRecord = -1
	r.TrimLeadingSpace = true
	head, err := r.Read()
	if err == io.EOF {
		return nil, badInput("%s: empty", path).hint("its first line is %s", dutyHeader)
	}
	if err != nil {
		return nil, dutyFailure(path, err)
	}
	for i := range head {
		head[i] = strings.TrimSpace(head[i])
	}
	if got := strings.Join(head, ","); got != dutyHeader {
		line, _ := r.FieldPos(0)
		return nil, badInput("%s:%d: the header is %s", path, line, quoted(got)).hint("it must be %s", dutyHeader)
	}
	var out []thermal.BenchSpan
	total, may := 0.0, thermal.BoundsOfBench()
	for {
		row, err := r.Read()
		if err == io.EOF {
			break
		}
		if err != nil {
			return nil, dutyFailure(path, err)
		}
		line, _ := r.FieldPos(0)
		at := path + ":" + strconv.Itoa(line)
		if len(row) != 3 {
			return nil, badInput("%s: wants 3 values, has %d", at, len(row)).hint("seconds, watts and km/h, separated by commas")
		}
		if len(out) == maxDutyRows {
			return nil, badInput("%s: more than %d rows", at, maxDutyRows)
		}
		var v [3]float64
		for i, c := range []struct {
			name string
			thermal.Bound
		}{{"seconds", may.DurationS}, {"watts", may.PowerW}, {"kmh", may.RollKmH}} {
			where := at + ": " + c.name
			if v[i], err = parseNumber(where, strings.TrimSpace(row[i])); err != nil {
				return nil, err
			}
			if !(v[i] >= c.Lo && v[i] <= c.Hi) {
				return nil, badInput("%s %s: outside %s to %s %s", where, exact(v[i]), exact(c.Lo), exact(c.Hi), c.Unit)
			}
		}
		if v[1] > 0 && v[2] < thermal.SlowestBrakedKmH && !noPads {
			return nil, slowWheel(fmt.Sprintf("%s: kmh %s", at, exact(v[2])))
		}
		if total += v[0]; total > may.DurationS.Hi {
			return nil, badInput("%s: with this row the duty is longer than a day", at)
		}
		out = append(out, thermal.BenchSpan{Seconds: v[0], PowerW: v[1], RollMps: v[2] / 3.6})
	}
	if len(out) == 0 {
		return nil, badInput("%s: no row after the header", path)
	}
	return out, nil
}

func dutyFailure(path string, err error) *failure {
	var pe *csv.ParseError
	if errors.As(err, &pe) {
		return badInput("%s:%d: %s", path, pe.Line, pe.Err)
	}
	return badInput("%s: %s", path, err)
}

// slowWheel words braking on a wheel that stands.
func slowWheel(where string) *failure {
	return badInput("%s: pads cannot brake a wheel that turns slower than %s km/h", where, exact(thermal.SlowestBrakedKmH)).hint("with --pads none the heat goes straight into the rim, at any speed")
}
