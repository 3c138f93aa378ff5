package rim

// The built-in parts. Every rim here is invented; its lengths lie inside what
// the trade builds, its mass inside 400-520 g (aluminium clincher) and
// 430-540 g (50 mm carbon clincher), common practice, no source.

func carbonEpoxy() Material {
	return Material{
		ID: "carbon-epoxy", Name: "woven carbon fibre in epoxy", Composite: true,
		ConductivityAlong:   Quantity{4, "W/(m K)", "quasi-isotropic 2.5-4, unidirectional along the fibre 4.5-7; central value, spread 2.5-6", FromMemory},
		ConductivityThrough: Quantity{0.65, "W/(m K)", "0.5-0.8 at fibre volume 0.55-0.62, spread 0.5-0.9", FromMemory},
		Density:             Quantity{1550, "kg/m3", "1,500-1,600", FromMemory},
		SpecificHeat:        Quantity{900, "J/(kg K)", "850-950 at 25 °C", FromMemory},
		SpecificHeatRise:    Quantity{3.5, "J/(kg K2)", "3-4 per kelvin up to about 150 °C", FromMemory},
		EmissivityTrack:     Quantity{0.90, "1", "carbon/epoxy laminate 0.85-0.95", FromMemory},
		EmissivityBody:      Quantity{0.90, "1", "lacquer over laminate 0.80-0.97", FromMemory},
	}
}

func aluminium() Material {
	return Material{
		ID: "aluminium-6061-t6", Name: "aluminium 6061-T6",
		ConductivityAlong:   Quantity{167, "W/(m K)", "supplier's data sheet for 6061-T6; spread 150-180", Published},
		ConductivityThrough: Quantity{167, "W/(m K)", "as along the wall: a metal", Published},
		Density:             Quantity{2700, "kg/m3", "supplier's data sheet for 6061-T6", Published},
		SpecificHeat:        Quantity{896, "J/(kg K)", "supplier's data sheet for 6061-T6, mean of 20-100 °C", Published},
		SpecificHeatRise:    Quantity{0, "J/(kg K2)", "mean value used over the whole range", CommonPractice},
		EmissivityTrack:     Quantity{0.15, "1", "machined bare track 0.10-0.25, from handbook values for rough-polished and roughened sheet", Derived},
		EmissivityBody:      Quantity{0.80, "1", "anodised 0.77-0.84", Published},
	}
}

const (
	inventedRim = "an invented rim, lengths inside what the trade builds"
	mm          = 1e-3
)

// Rims lists the built-in rims. The slice is the caller's own.
func Rims() []Section {
	return []Section{
		{
			ID: "carbon-deep", Name: "50 mm deep carbon clincher", Kind: "clincher",
			Material: carbonEpoxy(), ResinClass: "unknown", Source: inventedRim, Basis: Invented,
			Geometry: Geometry{Shape: Taper, OuterWidthM: 25.6 * mm, InnerWidthM: 19.0 * mm, DepthM: 50 * mm,
				TrackHeightM: 9 * mm, TrackBelowEdgeM: 1 * mm, BedBelowEdgeM: 6.5 * mm,
				BedM: 1.2 * mm, FlankM: 0.9 * mm, SpokeBedM: 2.8 * mm, BeadSeatDiameterM: 0.622},
		},
		{
			ID: "carbon-mid", Name: "35 mm carbon clincher", Kind: "clincher",
			Material: carbonEpoxy(), ResinClass: "unknown", Source: inventedRim, Basis: Invented,
			Geometry: Geometry{Shape: Taper, OuterWidthM: 25.0 * mm, InnerWidthM: 18.4 * mm, DepthM: 35 * mm,
				TrackHeightM: 9 * mm, TrackBelowEdgeM: 1 * mm, BedBelowEdgeM: 6.5 * mm,
				BedM: 1.1 * mm, FlankM: 0.85 * mm, SpokeBedM: 2.5 * mm, BeadSeatDiameterM: 0.622},
		},
		{
			ID: "carbon-thin", Name: "50 mm carbon clincher with thin walls", Kind: "clincher",
			Material: carbonEpoxy(), ResinClass: "unknown", Source: inventedRim, Basis: Invented,
			Geometry: Geometry{Shape: Taper, OuterWidthM: 23.0 * mm, InnerWidthM: 19.0 * mm, DepthM: 50 * mm,
				TrackHeightM: 9 * mm, TrackBelowEdgeM: 1 * mm, BedBelowEdgeM: 6.5 * mm,
				BedM: 1.2 * mm, FlankM: 1.1 * mm, SpokeBedM: 3.0 * mm, BeadSeatDiameterM: 0.622},
		},
		{
			ID: "alu-classic", Name: "22 mm aluminium clincher", Kind: "clincher",
			Material: aluminium(), Source: inventedRim, Basis: Invented,
			Geometry: Geometry{Shape: Taper, OuterWidthM: 21.6 * mm, InnerWidthM: 18.4 * mm, DepthM: 22 * mm,
				TrackHeightM: 9 * mm, TrackBelowEdgeM: 1 * mm, BedBelowEdgeM: 6.5 * mm,
				BedM: 1.1 * mm, FlankM: 1.0 * mm, SpokeBedM: 1.4 * mm, BeadSeatDiameterM: 0.622},
		},
		{
			ID: "alu-deep", Name: "30 mm aluminium clincher", Kind: "clincher",
			Material: aluminium(), Source: inventedRim, Basis: Invented,
			Geometry: Geometry{Shape: Taper, OuterWidthM: 22.0 * mm, InnerWidthM: 18.8 * mm, DepthM: 30 * mm,
				TrackHeightM: 9 * mm, TrackBelowEdgeM: 1 * mm, BedBelowEdgeM: 6.5 * mm,
				BedM: 1.0 * mm, FlankM: 0.85 * mm, SpokeBedM: 1.2 * mm, BeadSeatDiameterM: 0.622},
		},
	}
}

// Pads lists the built-in pad compounds. The slice is the caller's own.
func Pads() []Pad {
	length := Quantity{50e-3, "m", "pads are 45-55 mm long", CommonPractice}
	height := Quantity{9e-3, "m", "pads are 8-10 mm high", CommonPractice}
	thick := Quantity{8e-3, "m", "half-worn block on its holder", CommonPractice}
	return []Pad{
		{
			ID: "cork", Name: "cork blend for carbon tracks", ForComposite: true,
			Conductivity: Quantity{0.14, "W/(m K)", "cork blends 0.08-0.2", FromMemory},
			Density:      Quantity{800, "kg/m3", "500-1,100", FromMemory},
			SpecificHeat: Quantity{1750, "J/(kg K)", "1,600-1,900", FromMemory},
			Length:       length, Height: height, Thickness: thick,
		},
		{
			ID: "rubber-carbon", Name: "hard rubber blend for carbon tracks", ForComposite: true,
			Conductivity: Quantity{0.3, "W/(m K)", "rubber-type pads 0.2-0.4", FromMemory},
			Density:      Quantity{1300, "kg/m3", "1,150-1,500", FromMemory},
			SpecificHeat: Quantity{1400, "J/(kg K)", "1,300-1,700", FromMemory},
			Length:       length, Height: height, Thickness: thick,
		},
		{
			ID: "rubber-alu", Name: "rubber for aluminium tracks",
			Conductivity: Quantity{0.3, "W/(m K)", "rubber-type pads 0.2-0.4", FromMemory},
			Density:      Quantity{1300, "kg/m3", "1,150-1,500", FromMemory},
			SpecificHeat: Quantity{1400, "J/(kg K)", "1,300-1,700", FromMemory},
			Length:       length, Height: height, Thickness: thick,
		},
	}
}

// ResinClasses lists what a carbon track is taken to bear. With a known class
// the limit is the wet glass transition temperature less 28 K, the material
// operational limit of CMH-17 volume 1 (from memory); the class "unknown" is
// the project's own assumption. The slice is the caller's own.
func ResinClasses() []ResinClass {
	const mol = "wet glass transition less 28 K (material operational limit, CMH-17 vol. 1)"
	return []ResinClass{
		{"unknown", "resin unknown", 120, 95, 150, "assumed: no figure from the rim's maker", CommonPractice},
		{"epoxy-130", "epoxy cured at 120-130 °C", 72, 57, 87, mol + "; wet transition 85-115 °C", FromMemory},
		{"epoxy-180", "epoxy cured at 180 °C", 124, 112, 137, mol + "; wet transition 140-165 °C", FromMemory},
		{"bismaleimide", "bismaleimide", 172, 152, 192, mol + "; wet transition 180-220 °C", FromMemory},
	}
}

// TyreSides lists what sits on the tyre side of a rim and what it bears. The
// slice is the caller's own.
func TyreSides() []TyreSide {
	return []TyreSide{
		{"butyl-cloth", "butyl tube over woven cotton tape", "clincher", 130, "butyl bears 110-120 °C for long and 150 °C for short; between the two for minutes; cotton tape over 150 °C", FromMemory},
		{"butyl-plastic", "butyl tube over thin plastic tape", "clincher", 95, "thin plastic tape creeps into the spoke holes from 80-110 °C", FromMemory},
		{"latex", "latex tube", "clincher", 85, "natural latex weakens from 80-90 °C", FromMemory},
		{"tpu", "TPU tube", "clincher", 90, "TPU softens from 80-110 °C", FromMemory},
		{"tubular-cement", "tubular tyre on cement", "tubular", 70, "cement softens from 60-80 °C", FromMemory},
	}
}
