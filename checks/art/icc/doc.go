// Package icc reads ICC profiles: what one says about itself (its header and its
// tag table, enough to tell whether it can be used, for which colour space, and
// what people call it), and what it makes of colours.
//
// Clauses are those of ICC.1:2010 (profile version 4.3), the same text as
// ISO 15076-1:2010; where version 2 differs, ICC.1:2001-04 is named. The clause
// numbers are from memory; the layouts are held against other readers and
// against profiles in use by the tests. Numbers in a profile are big-endian.
//
// Two kinds of complaint are kept apart. An error of [Parse] means that no
// program can be relied on to use the profile: it is cut off, its tag table
// points outside it, or the tags that its class stands on are missing.
// [Profile.Trouble] lists what is against the standard and does no such harm.
//
// A [Transform] takes colours from one profile to another in stages: from the
// device's numbers to X, Y, Z against D50 and back. Its tables and curves are
// views of the profiles' bytes, looked through once more when it is made: a
// profile that parses may yet hold a table that does not add up. A stage takes
// any number whatever, so no damage shows itself later.
//
// Left out: links, abstract and named colours; inks beyond four; the tables in
// floats of version 4.3 (D2B0 and B2D0), for which the standard lets a reader
// fall back on the others; and what version 4 says of its perceptual black
// (6.3.3): such a table beside one of version 2 may have shadows too light.
package icc
