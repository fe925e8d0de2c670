// Package colour is colour and density as published: the sRGB curve, working
// spaces and their matrices, Bradford adaptation, CIE Lab, CIEDE2000, density
// (ISO 5), dot area (Murray and Davies) and the reading of embedded ICC
// profiles. Everything is float64; light is linear, 0 to 1.
package colour
