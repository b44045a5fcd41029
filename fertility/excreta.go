package fertility

// NPK is an amount of nitrogen, phosphorus and potassium as elements, in one unit of mass.
type NPK struct{ N, P, K float64 }

// Plus returns a + b.
func (a NPK) Plus(b NPK) NPK { return NPK{a.N + b.N, a.P + b.P, a.K + b.K} }

// Times returns a scaled by f.
func (a NPK) Times(f float64) NPK { return NPK{a.N * f, a.P * f, a.K * f} }

// ExcretedN returns the nitrogen [g] excreted when the given food protein [g] is
// supplied, kitchen waste included.
//
//	N = 0.13 protein
//
// Jönsson et al. 2004, eq. 1 (from memory). For protein eaten use ExcretedNEaten.
func ExcretedN(protein float64) float64 { return 0.13 * protein }

// ExcretedNEaten returns the nitrogen [g] excreted by adults when the given protein
// [g] is eaten: protein holds about 16 % nitrogen and adults are in balance (from memory).
func ExcretedNEaten(protein float64) float64 { return 0.16 * protein }

// ExcretedP returns the phosphorus [g] excreted from total and plant food protein [g].
//
//	P = 0.011 (total + plant)
//
// Jönsson et al. 2004, eq. 2 (from memory).
func ExcretedP(total, plant float64) float64 { return 0.011 * (total + plant) }

// ChildKeepsN is the share of eaten nitrogen that a growing child keeps (Jönsson
// et al. 2004, from memory).
const ChildKeepsN = 0.02

// DefaultUrine and DefaultFaeces are what one adult on a mixed diet excretes [kg/year]:
// Jönsson et al. 2004, Table 1 (Sweden). Urine read second-hand, faeces from memory.
var (
	DefaultUrine  = NPK{4.00, 0.365, 1.00}
	DefaultFaeces = NPK{0.55, 0.183, 0.365}
)

// Shares of excreted nutrients that leave in urine: the default adult of Jönsson et
// al. 2004, Table 1, 88, 67 and 73 %. A second compilation (Tilley et al.) has 80, 55
// and 60 %, and for faeces 12, 39 and 26 %, which do not sum to one.
const (
	UrineShareN = 4.00 / 4.55
	UrineShareP = 0.365 / 0.548
	UrineShareK = 1.00 / 1.365
)

// Split parts excreted nutrients into urine and faeces; the two sum to the total.
func Split(total NPK) (urine, faeces NPK) {
	urine = NPK{total.N * UrineShareN, total.P * UrineShareP, total.K * UrineShareK}
	return urine, total.Plus(urine.Times(-1))
}

// Daily is what one person passes in a day.
type Daily struct {
	Urine  float64 // L
	Faeces float64 // kg wet
	Dry    float64 // kg of dry matter in the faeces
}

// DailyOf returns the urine and faeces of a person of the given age [years].
//
// Adults: urine 550 L a year (Jönsson et al. 2004), faeces 128 g wet and 29 g dry, the
// medians of Rose et al. 2015. Children under 15 pass 0.3 + 0.7 age/15 of the adult
// amount (common practice). Ages below 0 count as 0.
func DailyOf(age float64) Daily {
	f := min(1, 0.3+0.7*max(0, age)/15)
	return Daily{Urine: f * 550 / 365, Faeces: f * 0.128, Dry: f * 0.029}
}

// Diluted returns strength [g/L] after adding the given parts of water to one of urine.
func Diluted(strength, parts float64) float64 { return strength / (max(0, parts) + 1) }

// DilutedVolume returns the litres of feed made from urine [L] with the given parts of water.
func DilutedVolume(urine, parts float64) float64 { return urine * (max(0, parts) + 1) }
