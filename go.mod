module github.com/slopewright/slopewright

go 1.26

require (
	github.com/google/go-cmp v0.7.0
	github.com/martinlindhe/unit v0.0.0-20230420213220-4adfd7d0a0d6
	github.com/shopspring/decimal v1.6.0
)
