// Package art is opened card artwork: a file as sides, each with its trim
// placed, its painted items and its pixels, made once and only when asked for.
//
// Open tells a file by its content and reads its facts. Place decides where the
// knife goes on each side; from then on a side speaks trim coordinates, and
// carries the basis on which its trim was placed. Everything that the file
// controls is bounded by Ceilings.
//
// The packages below art (pdf, raster, icc, render) know nothing of cards.
package art
