// Package weather turns a place's past weather, or its twelve monthly normals,
// into many possible years.
//
// Read takes the daily files that stations give out (GHCN-Daily fixed width, its
// CSV forms, plain CSV, plain or gzipped) and says how it understood them. A
// Record holds one station's days. Reference evapotranspiration and sun follow
// Allen, Pereira, Raes and Smith (1998), Crop evapotranspiration, FAO Irrigation
// and Drainage Paper 56, cited below as FAO-56 with the equation number. Frost
// dates follow Thom and Shaw (1958). A Generator follows Richardson (1981),
// Water Resources Research 17: 182-190. An Ensemble holds the possible years.
//
// It leaves out forecasts of the coming days, snow, humidity and hourly weather,
// and it fetches nothing.
package weather
