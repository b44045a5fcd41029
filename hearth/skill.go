package hearth

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"fmt"

	"evenstead/day"
	"evenstead/store"
)

// A Skill is how often outlooks of this stead would have been right in its record,
// as a hindcast found (package skill): kept so that pages can say it at once.
type Skill struct {
	Of     string  `json:"of"`     // SkillOf of what it was found on
	Weeks  int     `json:"weeks"`  // past weeks that were called sure
	Held   float64 `json:"held"`   // share of these that held
	Starts int     `json:"starts"` // hindcasts
	Years  int     `json:"years"`  // that they began in
	Last   day.Day `json:"last"`   // last day of the record
}

const skillSetting = "skill"

// SkillYears is the shortest record worth a hindcast, years.
const SkillYears = 10

// SkillOf tells one description and length of record from another: a week more of
// weather makes no new hindcast, a year does.
func SkillOf(text string, days int) string {
	sum := sha256.Sum256(fmt.Appendf(nil, "%d\n%s", days/365, text))
	return hex.EncodeToString(sum[:6])
}

// KeepSkill keeps what a hindcast found, in the place of the one before.
func (h *Home) KeepSkill(ctx context.Context, s Skill) error {
	b, err := json.Marshal(s)
	if err != nil {
		return err
	}
	return h.store.SaveSettings(ctx, []store.Setting{{Name: skillSetting, Value: string(b)}})
}

// Skill returns what was kept; ok is false when nothing was, or it can't be read.
func (h *Home) Skill(ctx context.Context) (s Skill, ok bool, err error) {
	kept, err := h.store.Settings(ctx)
	if err != nil {
		return s, false, err
	}
	for _, c := range kept {
		if c.Name == skillSetting {
			ok = json.Unmarshal([]byte(c.Value), &s) == nil && s.Weeks > 0
		}
	}
	return s, ok, nil
}
