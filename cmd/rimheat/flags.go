package main

import (
	"errors"
	"slices"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"
)

// These annotations of a flag feed the help.
const (
	groupNote = "group"
	valueNote = "value"
)

// A numberFlag writes a number into a layer.
type numberFlag struct {
	to   *layer
	name string
}

func (f numberFlag) String() string { return "" }
func (f numberFlag) Type() string   { return "number" }
func (f numberFlag) Set(s string) error {
	v, err := parseNumber("--"+f.name, s)
	if err == nil {
		f.to.numbers[f.name] = v
	}
	return err
}

// A textFlag writes a text into a layer.
type textFlag struct {
	to   *layer
	name string
}

func (f textFlag) String() string { return "" }
func (f textFlag) Type() string   { return "text" }
func (f textFlag) Set(s string) error {
	if s == "" {
		return badInput("--%s: the value is empty", f.name)
	}
	f.to.texts[f.name] = s
	return nil
}

// textFlags adds flags whose text goes to l.
func textFlags(fs *pflag.FlagSet, l *layer) func(group, value, name, help string) {
	return func(group, value, name, help string) {
		fs.Var(textFlag{l, name}, name, help)
		describe(fs, group, value, name)
	}
}

// A rimFlag adds a candidate to a layer.
type rimFlag struct{ to *layer }

func (f rimFlag) String() string { return "" }
func (f rimFlag) Type() string   { return "text" }
func (f rimFlag) Set(s string) error {
	if s == "" {
		return badInput("--rim: the value is empty")
	}
	f.to.rims = append(f.to.rims, s)
	return nil
}

// A rimLimitFlag adds a rim maker's figure to a layer.
type rimLimitFlag struct{ to *layer }

func (f rimLimitFlag) String() string { return "" }
func (f rimLimitFlag) Type() string   { return "text" }
func (f rimLimitFlag) Set(s string) error {
	l, err := parseRimLimit("--rim-limit", s)
	if err == nil {
		f.to.limits = append(f.to.limits, l)
	}
	return err
}

// A stopFlag adds a planned rest to a layer.
type stopFlag struct{ to *layer }

func (f stopFlag) String() string { return "" }
func (f stopFlag) Type() string   { return "text" }
func (f stopFlag) Set(s string) error {
	k, err := parseStop("--"+stopName, s)
	if err == nil {
		f.to.stops = append(f.to.stops, k)
	}
	return err
}

// describe names the help group of a flag and what stands for its value there.
func describe(fs *pflag.FlagSet, group, value string, names ...string) {
	for _, n := range names {
		if f := fs.Lookup(n); f != nil {
			f.Annotations = map[string][]string{groupNote: {group}, valueNote: {value}}
		}
	}
}

// flagFailure words what the flag library found wrong.
func flagFailure(c *cobra.Command, err error) error {
	var (
		own     *failure
		unknown *pflag.NotExistError
		lacking *pflag.ValueRequiredError
		invalid *pflag.InvalidValueError
	)
	switch {
	case errors.Is(err, pflag.ErrHelp):
		return err
	case errors.As(err, &own):
		return own
	case errors.As(err, &unknown):
		return unknownFlag(c, unknown)
	case errors.As(err, &lacking):
		return badInput("--%s: the value is missing", lacking.GetSpecifiedName())
	case errors.As(err, &invalid):
		return badInput("--%s %s: it is either given or not, it takes no such value", invalid.GetFlag().Name, quoted(invalid.GetValue()))
	}
	return badInput("%s", err)
}

func unknownFlag(c *cobra.Command, err *pflag.NotExistError) *failure {
	if s := err.GetSpecifiedShortnames(); s != "" {
		return badInput("unknown flag -%s", s).hint("flags are written with two dashes: %s --help lists them", c.CommandPath())
	}
	name := err.GetSpecifiedName()
	f := badInput("unknown flag --%s", name)
	if near := nearest(name, flagNames(c)); len(near) > 0 {
		for i := range near {
			near[i] = "--" + near[i]
		}
		return f.hint("did you mean %s?", either(near))
	}
	for _, verb := range c.Commands() {
		if slices.Contains(flagNames(verb), name) {
			return f.hint("it goes after the verb: %s --%s", verb.CommandPath(), name)
		}
	}
	return f.hint("%s --help lists the flags", c.CommandPath())
}

func flagNames(c *cobra.Command) []string {
	names := []string{"help"}
	c.Flags().VisitAll(func(f *pflag.Flag) {
		if f.Name != "help" && !f.Hidden {
			names = append(names, f.Name)
		}
	})
	return names
}
