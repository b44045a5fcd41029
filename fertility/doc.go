// Package fertility is the way back to the soil: what people excrete, how toilet
// drums and heaps rest, when each may be used and where, and what the ground then
// gives and loses. Every safety gate carries its rule and source.
//
// It leaves out the growth of crops, the water balance of beds and the digester.
// Main sources: Jönsson, Richert Stintzing, Vinnerås and Salomon 2004 (EcoSanRes
// 2004-2); WHO 2006, Guidelines for the safe use of wastewater, excreta and
// greywater, volume 4; 40 CFR 503; Richard and Trautmann (Cornell) on mixing;
// Haug 1993 on compost rates; Ayers and Westcot 1985 (FAO 29) and Maas 1990 on
// salt. Figures recalled and not read again are marked "from memory"; habits
// without one source are marked "common practice".
package fertility
