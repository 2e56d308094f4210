package checks

// All lists the checks in the order in which they run.
//
// Left out, and why: fold lines, die lines and varnish plates are for packaging,
// not for cards that a straight knife cuts; spelling is for a reader; taste is
// for nobody but the maker.
func All() []*Check {
	return []*Check{
		FileOpens,
		SideCount,
		PageBoxes,
		TrimSize,
		BleedExtent,
		BleedFill,
		SafeZone,
		EdgeBorder,
		EffectiveResolution,
		TrueDetail,
		JPEGLoss,
		ColourSpace,
		ColourTags,
		SpotColours,
		InkTotal,
		RichBlack,
		Overprint,
		FontsEmbedded,
		TextSize,
		Hairlines,
		LiveExtras,
		MarksInArt,
		CodeScan,
		PairSize,
		PairTurn,
	}
}
