package practice

import (
	"fmt"
	"math/rand/v2"
	"slices"

	"stoneproof/checks/checktest/press"
	"stoneproof/rules"
)

// Card is one card of a pack.
type Card struct {
	Name  string // of its file
	Bytes func() []byte

	fault string // the rule that it breaks; empty for a sound card
}

// Pack is a practice pack: its cards get harder from level to level.
type Pack struct {
	Seed   uint64
	Ticket rules.Ticket
	Cards  []Card
}

// perLevel is how many cards each level has. One of them is sound, or two, so that
// nobody can tell the rest by counting.
const perLevel = 3

// ending is how the names of all cards end.
const ending = ".pdf"

// Process is the process that packs are for. Of all processes it forgives least,
// so that more can be hidden.
const Process = "offset-coated"

// Sizes lists the card sizes that packs come in.
func Sizes() []string {
	return []string{"us-business", "eu-business", "jp-business", "cn-business"}
}

// Deal deals a pack of a size by a seed: the same seed deals the same pack.
func Deal(size string, seed uint64) (Pack, error) {
	if !slices.Contains(Sizes(), size) {
		return Pack{}, fmt.Errorf("there is no practice pack %q", size)
	}
	ticket, err := rules.Order{Size: size, Process: Process}.Ticket()
	if err != nil {
		return Pack{}, err
	}
	t := &table{
		dice: dice{
			Rand:  rand.New(rand.NewPCG(seed, 0x5eed)), // any second word will do
			bleed: ticket.Bleed.MM(), safe: ticket.Safe.MM(),
			sizes: slices.DeleteFunc(Sizes(), func(s string) bool { return s == size }),
		},
		size: size, dealt: map[string]bool{},
	}
	var tricks []trick
	for level := range levels {
		tricks = append(tricks, t.level(level)...)
	}
	p := Pack{Seed: seed, Ticket: ticket}
	for i, maker := range t.makers(tricks) {
		card := t.card(tricks[i], maker)
		card.Name = fmt.Sprintf("%02d", i+1) + ending
		p.Cards = append(p.Cards, card)
	}
	return p, nil
}

// table is where a pack is dealt.
type table struct {
	dice
	size  string
	dealt map[string]bool // rules and makers that the pack has
}

// level picks the tricks of a level, sound ones among the faults.
func (t *table) level(level int) []trick {
	good := 1
	if t.IntN(3) == 0 {
		good = 2
	}
	picked := append(t.pick(faults(), level, perLevel-good), t.pick(sound(), level, good)...)
	t.Shuffle(len(picked), func(i, j int) { picked[i], picked[j] = picked[j], picked[i] })
	return picked
}

// pick picks n tricks of a level, of rules and makers that the pack does not have
// yet.
func (t *table) pick(from []trick, level, n int) []trick {
	var picked []trick
	for _, i := range t.Perm(len(from)) {
		k := from[i]
		if k.level != level || t.dealt[k.rule] || t.dealt[k.maker] || len(picked) == n {
			continue
		}
		for _, once := range []string{k.rule, k.maker} {
			t.dealt[once] = once != ""
		}
		picked = append(picked, k)
	}
	return picked
}

// makers shares the town's makers out, one to a card.
func (t *table) makers(tricks []trick) []string {
	free := press.Makers()
	t.Shuffle(len(free), func(i, j int) { free[i], free[j] = free[j], free[i] })
	free = slices.DeleteFunc(free, func(m string) bool { return t.dealt[m] })
	var out []string
	for _, k := range tricks {
		if k.maker == "" {
			k.maker, free = free[0], free[1:]
		}
		out = append(out, k.maker)
	}
	return out
}

// card draws a trick as a maker's card. Pages are made in different ways, so that
// the way tells nothing.
func (t *table) card(k trick, maker string) Card {
	c := press.Card{Maker: maker, Style: k.styles[t.IntN(len(k.styles))], Size: t.size}
	d := k.draw(&t.dice)
	if d.size != "" {
		c.Size = d.size
	}
	ways := []press.Option{press.Origin(-31, 40), press.Rotated(90), press.Rotated(180), press.Slug(5), press.Slug(8)}
	if d.plain {
		ways = ways[:3]
	}
	options := append([]press.Option{ways[t.IntN(len(ways))]}, d.options...)
	if !d.intent && t.IntN(4) > 0 { // a profile is large
		options = append(options, press.NamedIntent())
	}
	return Card{fault: k.rule, Bytes: func() []byte {
		b := c.PDF(options...)
		if d.spoil != nil {
			b = d.spoil(b)
		}
		return b
	}}
}
