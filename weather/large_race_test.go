//go:build race

package weather

// largeText is the size of the stream that TestReadLarge reads, in bytes; the race detector is slow.
const largeText = 48 << 20
