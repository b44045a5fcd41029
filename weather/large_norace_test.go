//go:build !race

package weather

// largeText is the size of the stream that TestReadLarge reads, in bytes.
const largeText = 200 << 20
