module github.com/slopewright/slopewright

go 1.26
