package checks

// rules lists every rule, group by group, in the order of the references. A
// test holds it to the rules that the package declares.
var rules = []*Rule{
	// shape
	outlineOpen, outlineCrosses, cornerTooSharp, neckNarrow, slotNarrow, cutoutOutside, itemOutside,
	// the board
	boardThickness, serviceMissing,
	// plating
	wrapMissing, wrapLand, wrapClearance, planeShort, planeUntied, netConflict, spanShort, gapNarrow, gapIdle,
	platingEndless, platedShare, extensionShort, wallCopper, finishUnavailable, edgePullback,
	// connectors
	launchBlocked, launchClearance, launchOpen,
	// mask
	reliefMissing, reliefShort, maskWeb, reliefIdle,
	// tabs
	tabOnPlating, tabGapTight, tabMissing, tabCount, tabSpacing, tabCorner, tabNearConnector, tabWidth,
	tabUnbalanced, tabWeak, tabStubborn, perforationHole, perforationWeb, perforationOffset,
	// half holes
	castellationHole, castellationSpacing, castellationLand, castellationCorner, castellationOnPlating,
	// via fence
	fencePitch, fenceInset,
	// physics
	openingLong, shieldingShort, cavityResonance, wallCurrent, wallAbsorption,
	// housekeeping
	nameUnused, acceptanceUnused, acceptanceExpired,
}
