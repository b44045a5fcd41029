package fertility

import "math"

// BucketLitres is a household bucket [L] (common practice).
const BucketLitres = 10.0

// A Bucket is what one bucket of something holds of the nutrients, and the share of
// its nitrogen that a crop can have in the first year.
type Bucket struct {
	Name  string
	Holds NPK     // g
	Ready float64 // share of the nitrogen
}

// Usual buckets. Urine: 7.3 g N, 0.66 g P and 1.8 g K a litre (Jönsson et al. 2004,
// Table 1), all of it ready less what goes as ammonia watered in. Compost: 0.5 kg/L,
// half dry, 1.4 % N, 0.54 % P2O5 and 1.8 % K2O of dry mass (Karnchanawong and Suriyanon
// 2011), 10 % of its nitrogen in a year (common practice). Digestate: 1 kg/L of 0.25 %
// N, 0.07 % P, 0.2 % K, 60 % of it ammonium (from memory; O'Rourke et al. 2009). Wood
// ash: 0.6 kg/L (common practice) with AshP and AshK.
var (
	UrineBucket     = Bucket{"urine", NPK{7.3, 0.66, 1.8}.Times(BucketLitres), 1 - LossWateredIn}
	CompostBucket   = Bucket{"compost", NPK{0.0138, 0.0054 / P2O5PerP, 0.0179 / K2OPerK}.Times(0.5 * 0.5 * 1000 * BucketLitres), HouseCompost[0]}
	DigestateBucket = Bucket{"digestate", NPK{2.5, 0.7, 2.0}.Times(BucketLitres), DigestateAmmonium}
	AshBucket       = Bucket{"wood ash", NPK{0, AshP, AshK}.Times(0.6 * 1000 * BucketLitres), 0}
)

// Buckets returns the usual buckets.
func Buckets() []Bucket { return []Bucket{UrineBucket, CompostBucket, DigestateBucket, AshBucket} }

// For returns the buckets that bring the lacking grams: of nitrogen as far as it is
// ready, else of phosphorus or potassium, whichever of those asked for takes the
// most. A bucket that has none of what lacks gives +Inf; where nothing lacks, 0.
func (b Bucket) For(lack NPK) float64 {
	n := 0.0
	for _, one := range [][2]float64{{lack.N, b.Holds.N * b.Ready}, {lack.P, b.Holds.P}, {lack.K, b.Holds.K}} {
		if one[0] > 0 {
			n = max(n, one[0]/max(0, one[1]))
		}
	}
	return n
}

// UrineSodium and UrineChloride are what a litre of urine brings [g]: middles of 1-4
// and 2-8 g/L (Jönsson et al. 2004, from memory).
const (
	UrineSodium   = 2.5
	UrineChloride = 5.0
)

// SodiumYear is the sodium [g/m2] that a year's urine [L/m2] leaves where rain and
// irrigation don't carry it below the roots; leached is the share they do.
func SodiumYear(urine, leached float64) float64 {
	return max(0, urine) * UrineSodium * (1 - min(1, max(0, leached)))
}

// UrineN returns the nitrogen [kg/ha] that litres a m2 of urine of a strength [g/L]
// bring.
func UrineN(litresM2, strength float64) float64 { return litresM2 * strength * 10 }

// limePerPH is limestone [kg/m2] to raise the pH by one, by texture (garden sheet:
// 35, 50 and 70 lb per 1,000 square feet).
var limePerPH = [...]float64{SandyLoam: 0.17, Loam: 0.24, ClayLoam: 0.34}

// LimePerPH returns the limestone [kg/m2] that lifts the pH by rise (0 and over). An
// unknown texture counts as clay loam.
func LimePerPH(t Texture, rise float64) float64 {
	return limePerPH[min(int(t), int(ClayLoam))] * math.Max(0, rise)
}
