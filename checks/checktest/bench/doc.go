// Command bench measures how well the rules judge: it draws sides with known
// faults and sides without any, in many styles, containers and sizes, judges
// them all, and prints for each rule how many faults were found (recall) and how
// many sound sides were blamed (false alarms), with the misses listed.
//
//	go run ./checks/checktest/bench -seeds 40-49
//
// What a rule was tuned on says little of it: keep the seeds of a report apart
// from those that anybody looked at while writing a check.
package main
