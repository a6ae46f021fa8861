package materials

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
