package hearth

import (
	"context"

	"github.com/google/uuid"

	"evenstead/store"
)

// CheckPhoto reports why a file cannot be kept as a photo (fs.ErrInvalid).
func CheckPhoto(file []byte) error { return store.CheckPhoto(file) }

// AddPhoto keeps a photo with an entry that is in the book, as the store does.
func (h *Home) AddPhoto(ctx context.Context, entry uuid.UUID, file []byte) error {
	_, err := h.store.AddPhoto(ctx, entry, file)
	return err
}

// Photos lists the photos of an entry by their sums, oldest first.
func (h *Home) Photos(ctx context.Context, entry uuid.UUID) (sums [][32]byte, err error) {
	list, err := h.store.Photos(ctx, entry)
	for _, p := range list {
		sums = append(sums, p.Sum)
	}
	return sums, err
}

// Photo returns the photo of a sum: fs.ErrNotExist when there is none.
func (h *Home) Photo(ctx context.Context, sum [32]byte) (media string, file []byte, err error) {
	p, err := h.store.Photo(ctx, sum)
	return p.Media, p.Bytes, err
}
