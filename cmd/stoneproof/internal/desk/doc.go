// Package desk is a local page for people who do not live in a terminal: choose the
// ticket, drop the front and the back of a card, see the report, turn a number and see
// it again.
//
// It is for one person on this machine. It listens on the loopback address alone, and
// answers nobody who does not know its token, which stands in its address and nowhere
// else: not another page in the same browser (Origin, Sec-Fetch-Site), not a name that
// was made to point here (Host). Files stay in memory and are gone when the desk ends,
// however it ends; the browser is told to keep nothing. The page loads nothing from
// elsewhere, and its policy forbids it to.
//
// The desk does not know how cards are judged: it is given a function that does.
package desk
