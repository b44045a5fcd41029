package stead

import "reflect"

// Clone is a description with the same content that shares nothing with the first.
func (s *Stead) Clone() *Stead {
	c := *s
	own(reflect.ValueOf(&c).Elem())
	return &c
}

// own gives every list in a value, and in its parts, memory of its own.
func own(v reflect.Value) {
	switch v.Kind() {
	case reflect.Struct:
		for i := range v.NumField() {
			if f := v.Field(i); f.CanSet() && holdsLists(f.Type()) {
				own(f)
			}
		}
	case reflect.Slice:
		if v.IsNil() {
			return
		}
		list := reflect.MakeSlice(v.Type(), v.Len(), v.Len())
		reflect.Copy(list, v)
		v.Set(list)
		if holdsLists(v.Type().Elem()) {
			for i := range v.Len() {
				own(v.Index(i))
			}
		}
	}
}

// holdsLists tells whether a value of a type may hold a list.
func holdsLists(t reflect.Type) bool {
	switch t.Kind() {
	case reflect.Slice:
		return true
	case reflect.Struct:
		for i := range t.NumField() {
			if holdsLists(t.Field(i).Type) {
				return true
			}
		}
	}
	return false
}
