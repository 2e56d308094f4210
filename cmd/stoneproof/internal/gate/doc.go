// Package gate is a folder that never loses a file and never lets a bad one
// through: files fall into the intake, good ones are passed on to the cleared
// folder, bad ones to the held folder, each with its report beside it.
//
// Its promise is a mail queue's: whatever happens, every file that came in is in
// exactly one of intake, cleared or held, byte for byte as it came. So nothing is
// ever in the memory of a gate alone; what a gate is doing stands on disk, and
// every step from one state to the next is one rename:
//
//	intake/x.pdf                              waits
//	intake/.stoneproof/claims/GATE/7/art/x.pdf   is judged, by the gate of that name
//	intake/.stoneproof/claims/GATE/7/intent.json what is to become of it, once judged
//	held/.stoneproof/GATE/7-0 …               its report, written and synced, not yet named
//	held/x.pdf.report.json …                  its report in place
//	held/x.pdf                                done
//
// A gate that is stopped anywhere leaves one of these states. Whoever finds it dead
// takes its claims over: a claim with an intent is carried out to its end by the same
// code that would have done it, one without goes back to the intake. What is staged
// tells how far an intent has come: a staged report that is gone has been renamed
// into place, for nothing else removes it while the intent stands.
//
// Where the destination is on another file system the art is staged there as a copy,
// synced and compared, and the claimed file is removed once the copy has its name.
//
// Nothing is overwritten: names are taken by a rename that refuses to replace, or
// where there is none by link and remove.
package gate
