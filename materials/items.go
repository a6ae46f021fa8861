package materials

import (
	"strings"

	"github.com/slopewright/slopewright/internal/fault"
)

// Items returns the ids of every item that a take-off may have, in the order
// of the work. The caller may change the slice.
func Items() []string {
	return []string{
		ItemRiserTimber, ItemSideTimber, ItemCrossPiece, ItemLandingTimber, ItemFootTimber, ItemBankTimber, ItemDeadman, ItemDeadmanCross, ItemFaceBoard,
		ItemPin, ItemScrew, ItemSpike, ItemPierBracket, ItemAnchorBolt,
		ItemBase, ItemFill, ItemTopping, ItemFabric, ItemPreservative, ItemConcrete, ItemConcreteBag,
		ItemEdging, ItemEdgingStake, ItemDrainPipe, ItemDrainStone, ItemDrainFitting,
		ItemLight, ItemLightCable, ItemLightConnector, ItemTransformer,
		ItemStringer, ItemTreadBoard, ItemRiserBoard, ItemLedger, ItemPost, ItemBeam, ItemJoist, ItemDeckBoard,
		ItemGuardPost, ItemGuardRail, ItemBaluster, ItemHandrail,
		ItemTreadBracket, ItemHanger, ItemJoistHanger, ItemHangerNail, ItemFootBracket, ItemPostBase, ItemPostCap, ItemPostBolt,
		ItemGuardConnector, ItemRailBracket, ItemDeckScrew,
	}
}

// ItemCalled is the item of a name as a bill writes it, base gravel for base-gravel.
// Of a mistyped one, a stroke or two off, it is what was probably meant, and ok is
// false. A name that is none of the items stays: a yard's list has other goods.
func ItemCalled(name string) (item string, ok bool) {
	item = strings.ReplaceAll(strings.ToLower(strings.TrimSpace(name)), " ", "-")
	known := Items()
	most := 1
	if len(item) > 5 {
		most = 2
	}
	switch meant := fault.Nearest(item, known, most); {
	case meant == item && item != "":
		return item, true
	case meant == "" || item == ItemBoard:
		return name, true
	default:
		return meant, false
	}
}
