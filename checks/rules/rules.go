// Package rules holds the rules: what a fabricator cannot build, what is risky,
// costly or untidy in a board, a file a rule, its document in it.
package rules

import "hemline/checks"

// All is the catalogue of the rules. It is shared; it must not be changed.
func All() checks.Catalogue { return all }

// all lists every rule, group by group, in the order of the references. A
// test holds it to the rules that the package declares.
var all = checks.Catalogue{
	// shape
	outlineOpen, outlineCrosses, cornerTooSharp, neckNarrow, slotNarrow, edgeStanding, edgeShared, cutoutOutside, itemOutside, holeLarge, holeWeb, holeEdge,
	// the board
	boardThickness, toleranceFine, markingMisplaced, serviceMissing,
	// plating
	wrapMissing, wrapLand, wrapOverlap, wrapClearance, planeShort, wallShort, tiesMeet, tieUnstated, planesOverlap, copperClearance, planeUntied, netConflict,
	platingConflict, platingTwice, spanShort, gapNarrow, gapIdle, gapConflict,
	platingEndless, platedShare, extensionShort, extensionStray, stretchEmpty, wallCopper, finishUnavailable, edgePullback,
	// connectors
	launchBlocked, launchClearance, launchOpen, gapAstray, gapUnbridged, legUnplated, bodyClearance, connectorsMeet, bodyShorts,
	// mask
	reliefMissing, reliefShort, maskWeb, maskBares, reliefIdle, reliefStray, reliefConflict,
	// tabs
	tabOnPlating, premetallisedBare, tabGapTight, tabsCrowded, tabMissing, tabCount, tabSpacing, tabCorner, tabNearConnector, tabWidth,
	tabUnbalanced, tabShort, tabFacesBoard, tabFlank, tabWaist, tabWeak, tabStubborn, perforationHole, perforationWeb, perforationOffset,
	// half holes
	castellationHole, castellationSpacing, castellationLand, castellationCorner, castellationOnPlating,
	// via fence
	fencePitch, fenceInset, fenceEmpty,
	// physics
	openingLong, shieldingShort, cavityResonance, wallCurrent, wallAbsorption,
	// housekeeping
	notVerified, unitUnlikely, nameUnused, leaveIdle, fabricatorOutdated, acceptanceExpired,
	acceptanceUnused, // the last: it looks at what all the others have found
}
