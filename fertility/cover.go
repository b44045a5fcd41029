package fertility

// What one adult passes in a year, as compost material: urine apart, and urine and
// faeces together. Wet and dry mass of Jönsson et al. 2004, Table 1 (faeces 51 and 11 kg,
// urine 550 and 21), nitrogen of Gotaas 1956 and of Table 1, C:N of faeces 8 and of urine
// 0.8 (Gotaas 1956).
var (
	AdultFaeces = Material{Mass: 51, Moisture: 1 - 11.0/51, C: 8 * 0.05, N: 0.05}
	AdultToilet = Material{Mass: 601, Moisture: 1 - 32.0/601, C: (4.4 + 3.2) / 32, N: 4.55 / 32}
)

// Cover returns the kg of cover material (its Mass is not used) that brings the toilet
// waste of so many adult-years to the C:N goal. What people do use is about a third of that
// where urine goes in too, and nitrogen is then lost as ammonia.
func Cover(waste Material, adultYears float64, cover Material, goal float64) (float64, error) {
	waste.Mass *= adultYears
	return SecondForCN(waste, cover, goal)
}
