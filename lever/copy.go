package lever

import (
	"reflect"

	"evenstead/stead"
)

// Copy returns a stead that shares nothing with the one given.
func Copy(st *stead.Stead) *stead.Stead {
	c := new(stead.Stead)
	reflect.ValueOf(c).Elem().Set(deep(reflect.ValueOf(*st)))
	return c
}

// deep copies a value with every slice in it.
func deep(v reflect.Value) reflect.Value {
	out := reflect.New(v.Type()).Elem()
	out.Set(v)
	switch v.Kind() {
	case reflect.Slice:
		if v.IsNil() {
			return out
		}
		out.Set(reflect.MakeSlice(v.Type(), v.Len(), v.Len()))
		for i := range v.Len() {
			out.Index(i).Set(deep(v.Index(i)))
		}
	case reflect.Struct:
		for i := range v.NumField() {
			if v.Type().Field(i).IsExported() {
				out.Field(i).Set(deep(v.Field(i)))
			}
		}
	}
	return out
}
