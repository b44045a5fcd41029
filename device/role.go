package device

import (
	"fmt"
	"time"
)

// A Role is what a device may do. Each may do what the ones before it may.
type Role int

// The roles. The host is the machine itself, which no device can be.
const (
	Nobody    Role = iota // not paired: may ask to be
	Visitor               // reads the open-day page
	Helper                // reads the week's tasks and writes notes
	Household             // reads and writes everything
	Host                  // pairs and revokes devices besides
)

var roleNames = [...]string{"nobody", "visitor", "helper", "household", "host"}

// String is the role's word.
func (r Role) String() string {
	if r < 0 || int(r) >= len(roleNames) {
		return fmt.Sprintf("role %d", int(r))
	}
	return roleNames[r]
}

// Roles are those a device can have, the least first.
func Roles() []Role { return []Role{Visitor, Helper, Household} }

// ParseRole reads the word of a role that a device can have.
func ParseRole(text string) (Role, error) {
	for _, r := range Roles() {
		if r.String() == text {
			return r, nil
		}
	}
	return Nobody, fmt.Errorf("role %q: give visitor, helper or household", text)
}

// MarshalText writes the word.
func (r Role) MarshalText() ([]byte, error) { return []byte(r.String()), nil }

// UnmarshalText reads the word.
func (r *Role) UnmarshalText(text []byte) (err error) {
	*r, err = ParseRole(string(text))
	return err
}

const hours = time.Hour

// Idle is how long a device of the role may stay away before it must be paired
// again. A visitor's day ends two days after it was paired, seen or not.
func (r Role) Idle() time.Duration {
	switch r {
	case Household:
		return 400 * 24 * hours
	case Helper:
		return 120 * 24 * hours
	}
	return 2 * 24 * hours
}
