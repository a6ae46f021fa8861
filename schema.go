package slopewright

import "github.com/slopewright/slopewright/internal/docjson"

const schemaBase = "urn:slopewright:schema:"

// PlanSchema is the JSON Schema (2020-12) of plan documents, as published in
// site/schema.
func PlanSchema() []byte {
	return docjson.Schema(Plan{}, schemaBase+"plan-1", "Slopewright plan, version 1", false)
}

// RequestSchema is the JSON Schema of what [Call] takes.
func RequestSchema() []byte {
	return docjson.Schema(Request{}, schemaBase+"request-1", "Slopewright request, version 1", false)
}

// SketchSchema is the JSON Schema of sketches.
func SketchSchema() []byte {
	return docjson.Schema(Sketch{}, schemaBase+"sketch-1", "Slopewright sketch, version 1", true)
}

// ResultSchema is the JSON Schema of result documents.
func ResultSchema() []byte {
	return docjson.Schema(Result{}, schemaBase+"result-1", "Slopewright result, version 1", true)
}
