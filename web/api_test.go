package web

import (
	"bytes"
	"encoding/json"
	"fmt"
	"html"
	"net/http"
	"net/http/httptest"
	"net/url"
	"os"
	"reflect"
	"regexp"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/google/uuid"

	"evenstead/book"
	"evenstead/day"
	"evenstead/demo"
	"evenstead/engine"
	"evenstead/hearth"
	"evenstead/lever"
	"evenstead/unit"
	"evenstead/weather"
)

// fewYears is a desk over Quernfold whose outlooks are quick and coarse.
func fewYears(t testing.TB) *Desk {
	t.Helper()
	d := NewDesk(homeOf(t, demo.Quernfold()), func() time.Time { return deskNoon }, DeskOptions{Members: 6})
	t.Cleanup(d.Close)
	return d
}

// call asks the interface; a body is sent as JSON.
func call(t testing.TB, h http.Handler, method, path, body string) *httptest.ResponseRecorder {
	t.Helper()
	r := httptest.NewRequest(method, path, strings.NewReader(body))
	if body != "" {
		r.Header.Set("Content-Type", "application/json")
	}
	w := httptest.NewRecorder()
	h.ServeHTTP(w, r)
	return w
}

// ranked waits until every lever is tried.
func ranked(t testing.TB, d *Desk) *lever.Ranking {
	t.Helper()
	for end := time.Now().Add(2 * time.Minute); time.Now().Before(end); time.Sleep(20 * time.Millisecond) {
		rank, p, err := d.Levers(t.Context())
		deskMust(t, err)
		deskMust(t, p.Err)
		if rank != nil {
			return rank
		}
	}
	t.Fatal("no levers came")
	return nil
}

// TestAPIDocument runs every example of docs/api.md.
func TestAPIDocument(t *testing.T) {
	d := fewYears(t)
	h := deskSite(t, d)
	settled(t, d)
	ranked(t, d)
	doc, err := os.ReadFile("../docs/api.md")
	must(t, err)
	blocks := regexp.MustCompile("(?s)```\n(.*?)\n```").FindAllStringSubmatch(string(doc), -1)
	if len(blocks) < 10 {
		t.Fatalf("only %d examples", len(blocks))
	}
	for _, b := range blocks {
		lines := strings.Split(b[1], "\n")
		method, path, _ := strings.Cut(lines[0], " ")
		body := strings.Join(lines[1:len(lines)-1], "\n")
		status, want, _ := strings.Cut(lines[len(lines)-1], " ")
		if strings.HasPrefix(path, apiBase+"/levers") || strings.HasPrefix(path, apiBase+"/outlook") {
			settled(t, d)
			ranked(t, d)
		}
		w := call(t, h, method, path, body)
		if fmt.Sprint(w.Code) != status {
			t.Errorf("%s: status %d, want %s: %s", lines[0], w.Code, status, w.Body)
			continue
		}
		var got, like any
		must(t, json.Unmarshal(w.Body.Bytes(), &got))
		must(t, json.Unmarshal([]byte(want), &like))
		if why := unlike(like, got); why != "" {
			t.Errorf("%s: %s", lines[0], why)
		}
	}
}

// unlike says where an answer is not as an example has it; "..." is like anything
// and an example's list holds some of the answer's.
func unlike(want, got any) string {
	switch want := want.(type) {
	case map[string]any:
		g, ok := got.(map[string]any)
		if !ok {
			return fmt.Sprintf("want an object, got %v", got)
		}
		for k, v := range want {
			have, ok := g[k]
			if !ok {
				return "no key " + k
			}
			if why := unlike(v, have); why != "" {
				return k + ": " + why
			}
		}
		return ""
	case []any:
		g, ok := got.([]any)
		if !ok || len(want) == 0 && len(g) != 0 {
			return fmt.Sprintf("want the list %v, got %v", want, got)
		}
		for _, v := range want {
			if !slices.ContainsFunc(g, func(have any) bool { return unlike(v, have) == "" }) {
				return fmt.Sprintf("nothing in the list is like %v", v)
			}
		}
		return ""
	}
	if want == "..." || reflect.DeepEqual(want, got) {
		return ""
	}
	return fmt.Sprintf("want %v, got %v", want, got)
}

// openAPI is the document as far as the tests read it.
type openAPI struct {
	OpenAPI    string
	Paths      map[string]map[string]operation
	Components struct{ Schemas map[string]*schema }
}

type operation struct {
	OperationID string
	Parameters  []struct{ Name, In string }
	RequestBody *struct {
		Content map[string]struct{ Schema *schema }
	}
	Responses map[string]struct {
		Content map[string]struct{ Schema *schema }
	}
}

// schema is one of JSON Schema, as far as the document uses it.
type schema struct {
	Ref                  string             `json:"$ref"`
	Type                 any                `json:"type"`
	Properties           map[string]*schema `json:"properties"`
	Required             []string           `json:"required"`
	Items                *schema            `json:"items"`
	OneOf                []*schema          `json:"oneOf"`
	Enum                 []any              `json:"enum"`
	Format               string             `json:"format"`
	Description          string             `json:"description"`
	AdditionalProperties any                `json:"additionalProperties"`
	MinItems, MaxItems   int
}

func readOpenAPI(t *testing.T) *openAPI {
	t.Helper()
	var doc openAPI
	must(t, json.Unmarshal(apiDocument, &doc))
	return &doc
}

func (d *openAPI) schema(s *schema) *schema {
	if name, ok := strings.CutPrefix(s.Ref, "#/components/schemas/"); ok {
		return d.Components.Schemas[name]
	}
	return s
}

func (s *schema) is(kind string) bool {
	switch t := s.Type.(type) {
	case string:
		return t == kind
	case []any:
		return slices.Contains(t, any(kind))
	}
	return false
}

// TestOpenAPIHasEveryPath holds the document's paths to the handlers', both ways.
func TestOpenAPIHasEveryPath(t *testing.T) {
	doc := readOpenAPI(t)
	if !strings.HasPrefix(doc.OpenAPI, "3.1.") {
		t.Errorf("openapi %s", doc.OpenAPI)
	}
	served, told := map[string]bool{}, map[string]bool{}
	for _, r := range (&site{}).apiTable() {
		served[r.method+" "+r.path] = true
	}
	ids := map[string]bool{}
	for path, ops := range doc.Paths {
		for method, op := range ops {
			told[strings.ToUpper(method)+" "+path] = true
			if op.OperationID == "" || ids[op.OperationID] {
				t.Errorf("%s %s: operation id %q", method, path, op.OperationID)
			}
			ids[op.OperationID] = true
			for _, name := range regexp.MustCompile(`\{(\w+)\}`).FindAllStringSubmatch(path, -1) {
				if !slices.ContainsFunc(op.Parameters, func(p struct{ Name, In string }) bool { return p.Name == name[1] && p.In == "path" }) {
					t.Errorf("%s: no parameter %s", path, name[1])
				}
			}
		}
	}
	if !reflect.DeepEqual(served, told) {
		t.Errorf("served %v\ntold %v", served, told)
	}
}

// TestOpenAPIHasEveryKey walks the Go types that are sent and read, and holds
// their keys and kinds to the schemas, both ways; every schema is of some type.
func TestOpenAPIHasEveryKey(t *testing.T) {
	doc := readOpenAPI(t)
	types := map[string]reflect.Type{
		"Outlook": reflect.TypeFor[engine.Outlook](), "Verdict": reflect.TypeFor[engine.Verdict](), "Need": reflect.TypeFor[engine.NeedOutlook](),
		"Store": reflect.TypeFor[engine.StoreOutlook](), "Band": reflect.TypeFor[engine.Band](), "Crop": reflect.TypeFor[engine.CropOutlook](),
		"Loop": reflect.TypeFor[engine.LoopOutlook](), "Flow": reflect.TypeFor[engine.LoopFlow](), "Found": reflect.TypeFor[engine.Found](),
		"Drift": reflect.TypeFor[engine.Drift](), "Learned": reflect.TypeFor[engine.Learned](), "Seen": reflect.TypeFor[engine.Seen](),
		"Look": reflect.TypeFor[engine.Question](), "Ranking": reflect.TypeFor[lever.Ranking](), "Lever": reflect.TypeFor[lever.Trial](),
		"Pair": reflect.TypeFor[lever.Pair](),
		"Cost": reflect.TypeFor[lever.Cost](), "Change": reflect.TypeFor[lever.Change](), "Figures": reflect.TypeFor[lever.Figures](),
		"Entries": reflect.TypeFor[apiEntries](), "Note": reflect.TypeFor[apiNote](), "Written": reflect.TypeFor[apiWritten](),
		"Strike": reflect.TypeFor[apiStrikeOut](), "Error": reflect.TypeFor[apiError](), "Line": reflect.TypeFor[apiLine](),
		"Doubt": reflect.TypeFor[apiDoubt](), "Wait": reflect.TypeFor[apiWait](), "Stores": reflect.TypeFor[apiStores](),
		"Tank": reflect.TypeFor[apiTank](), "Lot": reflect.TypeFor[apiLot](), "Place": reflect.TypeFor[apiPlace](), "Fuel": reflect.TypeFor[apiFuel](),
		"Sight": reflect.TypeFor[apiSeen](), "Stead": reflect.TypeFor[apiStead](), "Weather": reflect.TypeFor[apiWeather](),
		"WeatherDay": reflect.TypeFor[apiWeatherDay](), "Readings": reflect.TypeFor[apiReadings](), "Reading": reflect.TypeFor[apiReading](),
		"Taken": reflect.TypeFor[apiTaken](), "Judged": reflect.TypeFor[apiVerdict](), "Sensors": reflect.TypeFor[apiSensors](), "Sensor": reflect.TypeFor[apiSensor](),
	}
	names := map[reflect.Type]string{reflect.TypeFor[book.Entry](): "Entry"}
	for name, typ := range types {
		names[typ] = name
	}
	for name := range doc.Components.Schemas {
		if types[name] == nil && name != "Entry" {
			t.Errorf("schema %s is of no type", name)
		}
	}
	for name, typ := range types {
		s := doc.Components.Schemas[name]
		if s == nil {
			t.Errorf("no schema %s", name)
			continue
		}
		keys := map[string]reflect.Type{}
		jsonKeys(typ, keys)
		for k, field := range keys {
			if p := s.Properties[k]; p == nil {
				t.Errorf("%s: key %s of the type is not in the schema", name, k)
			} else if why := kindOff(p, field, names); why != "" {
				t.Errorf("%s.%s: %s", name, k, why)
			}
		}
		for k, p := range s.Properties {
			if keys[k] == nil {
				t.Errorf("%s: key %s of the schema is not in the type", name, k)
			}
			if p.Ref == "" && p.Description == "" && p.OneOf == nil {
				t.Errorf("%s.%s says nothing", name, k)
			}
		}
	}
}

// jsonKeys lists the keys that a type is written with, embedded ones too.
func jsonKeys(typ reflect.Type, keys map[string]reflect.Type) {
	for i := range typ.NumField() {
		f := typ.Field(i)
		name, _, _ := strings.Cut(f.Tag.Get("json"), ",")
		switch {
		case name == "-":
		case f.Anonymous && name == "":
			jsonKeys(f.Type, keys)
		default:
			keys[name] = f.Type
		}
	}
}

// kindOff says how a schema is not of a type's kind; "" when it is.
func kindOff(s *schema, typ reflect.Type, names map[reflect.Type]string) string {
	want := "number"
	switch {
	case typ.Kind() == reflect.Pointer:
		if len(s.OneOf) == 2 {
			if !s.OneOf[1].is("null") {
				return "a pointer may be null"
			}
			return kindOff(s.OneOf[0], typ.Elem(), names)
		}
		if !s.is("null") {
			return "a pointer may be null"
		}
		return kindOff(s, typ.Elem(), names)
	case typ == reflect.TypeFor[day.Day]():
		if !s.is("string") || s.Format != "date" {
			return "a day is a string of format date"
		}
		return ""
	case typ == reflect.TypeFor[uuid.UUID]():
		if !s.is("string") || s.Format != "uuid" {
			return "an id is a string of format uuid"
		}
		return ""
	case names[typ] != "":
		if s.Ref != "#/components/schemas/"+names[typ] {
			return fmt.Sprintf("want a reference to %s, got %q", names[typ], s.Ref)
		}
		return ""
	}
	switch typ.Kind() {
	case reflect.String:
		want = "string"
	case reflect.Bool:
		want = "boolean"
	case reflect.Int, reflect.Uint64:
		want = "integer"
	case reflect.Slice, reflect.Array:
		if !s.is("array") || s.Items == nil {
			return "want an array"
		}
		if typ.Kind() == reflect.Array && (s.MinItems != typ.Len() || s.MaxItems != typ.Len()) {
			return fmt.Sprintf("want just %d items", typ.Len())
		}
		elem := typ.Elem()
		if elem.Kind() == reflect.Pointer { // never nil in a list
			elem = elem.Elem()
		}
		return kindOff(s.Items, elem, names)
	}
	if !s.is(want) {
		return fmt.Sprintf("want %s, got %v", want, s.Type)
	}
	return ""
}

// off says where a value is not of a schema; "" when it is.
func (d *openAPI) off(s *schema, v any) string {
	s = d.schema(s)
	if len(s.OneOf) > 0 {
		why := ""
		for _, one := range s.OneOf {
			if why = d.off(one, v); why == "" {
				return ""
			}
		}
		return why
	}
	if len(s.Enum) > 0 && !slices.Contains(s.Enum, v) {
		return fmt.Sprintf("%v is none of %v", v, s.Enum)
	}
	switch v := v.(type) {
	case nil:
		if !s.is("null") {
			return "may not be null"
		}
	case string:
		return d.text(s, v)
	case float64:
		if !s.is("number") && (!s.is("integer") || v != float64(int64(v))) {
			return fmt.Sprintf("%g is no %v", v, s.Type)
		}
	case bool:
		if !s.is("boolean") {
			return fmt.Sprintf("%v is no %v", v, s.Type)
		}
	case []any:
		if !s.is("array") {
			return fmt.Sprintf("a list is no %v", s.Type)
		}
		for i, x := range v {
			if why := d.off(s.Items, x); why != "" {
				return fmt.Sprintf("%d: %s", i, why)
			}
		}
	case map[string]any:
		return d.object(s, v)
	}
	return ""
}

func (d *openAPI) text(s *schema, v string) string {
	err := error(nil)
	switch s.Format {
	case "date":
		_, err = day.Parse(v)
	case "uuid":
		_, err = uuid.Parse(v)
	case "date-time":
		_, err = time.Parse(time.RFC3339Nano, v)
	}
	if err != nil || !s.is("string") {
		return fmt.Sprintf("%q is no %v %s: %v", v, s.Type, s.Format, err)
	}
	return ""
}

func (d *openAPI) object(s *schema, v map[string]any) string {
	if !s.is("object") {
		return fmt.Sprintf("an object is no %v", s.Type)
	}
	for _, k := range s.Required {
		if _, ok := v[k]; !ok {
			return "no key " + k
		}
	}
	for k, x := range v {
		p := s.Properties[k]
		if p == nil && s.AdditionalProperties == false {
			return "key " + k + " is not described"
		}
		if p != nil {
			if why := d.off(p, x); why != "" {
				return k + ": " + why
			}
		}
	}
	return ""
}

// TestAnswersAreAsDescribed asks every way in, well and badly, and holds the
// status and the body to the document.
func TestAnswersAreAsDescribed(t *testing.T) {
	d := fewYears(t)
	h := deskSite(t, d)
	rec := &weather.Record{Start: deskBegun, Rain: []float64{3, 0}, TMin: []float64{4, 5}, TMax: []float64{12, 13}}
	_, err := d.Home().KeepWeather(t.Context(), rec)
	must(t, err)
	write(t, d, "dipped cistern at 9000 L\ncounted potatoes 20 kg\nput up 2 kg kale by 7:30, frozen (first frost)")
	doc := readOpenAPI(t)
	const id, other = "019aba2c-8000-7000-8000-00000000000a", "019aba2c-8000-7000-8000-00000000000b"
	note := func(text, ids string) string { return fmt.Sprintf(`{"note": %q, "ids": [%s]}`, text, ids) }
	asks := []struct {
		method, path, body string
		want               int
	}{
		{"GET", "/outlook", "", 503}, {"GET", "/levers", "", 503},
		{"GET", "/stores", "", 200}, {"GET", "/stead", "", 200}, {"GET", "/weather", "", 200}, {"GET", "/weather?from=soon", "", 400},
		{"GET", "/openapi.json", "", 200}, {"GET", "/entries", "", 200}, {"GET", "/entries?from=x", "", 400}, {"GET", "/entries?kind=sneezed", "", 400},
		{"POST", "/entries", note("rain 3 mm", `"`+id+`"`), 201}, {"POST", "/entries", note("rain 3 mm", `"`+id+`"`), 200},
		{"POST", "/entries", `{"entries": [{"id": "` + id + `", "day": "2026-11-25", "kind": "rain", "amount": 9, "measure": "depth"}]}`, 409},
		{"POST", "/entries", note("rain 3 mm", ""), 422}, {"POST", "/entries", note("sang", `"`+other+`"`), 422}, {"POST", "/entries", note("rain 3", `"`+other+`"`), 422},
		{"POST", "/entries", `{`, 400}, {"POST", "/entries", `{"colour": "red"}`, 400}, {"POST", "/entries", `{} {}`, 400}, {"POST", "/entries", `{}`, 422},
		{"POST", "/entries", `{"note": "` + strings.Repeat("x", mostForm) + `"}`, 413},
		{"POST", "/entries", `{"note": "rain 3 mm", "day": "2027-01-01", "ids": ["` + other + `"]}`, 422},
		{"POST", "/entries/" + id + "/strike", `{"id": "` + other + `", "reason": "a slip"}`, 201},
		{"POST", "/entries/" + id + "/strike", `{"id": "` + other + `", "reason": "a slip"}`, 200},
		{"POST", "/entries/" + id + "/strike", `{"id": "019aba2c-8000-7000-8000-00000000000c"}`, 409},
		{"POST", "/entries/" + id + "/strike", `{"id": "` + uuid.Nil.String() + `"}`, 422},
		{"POST", "/entries/nothing/strike", `{"id": "` + other + `"}`, 404},
		{"GET", "/entries?struck=true", "", 200},
	}
	for _, a := range asks {
		doc.ask(t, h, a.method, a.path, a.body, a.want)
	}
	settled(t, d)
	ranked(t, d)
	doc.ask(t, h, "GET", "/outlook", "", 200)
	doc.ask(t, h, "GET", "/levers", "", 200)
}

// ask holds one answer to the document.
func (d *openAPI) ask(t *testing.T, h http.Handler, method, path, body string, want int) {
	t.Helper()
	w := call(t, h, method, apiBase+path, body)
	bare, _, _ := strings.Cut(path, "?")
	bare = regexp.MustCompile(`^/entries/[^/]+/strike$`).ReplaceAllString(bare, "/entries/{id}/strike")
	told, ok := d.Paths[bare][strings.ToLower(method)].Responses[fmt.Sprint(w.Code)]
	if w.Code != want || !ok {
		t.Errorf("%s %s: status %d, want %d; described %v: %.300s", method, path, w.Code, want, ok, w.Body)
		return
	}
	var v any
	must(t, json.Unmarshal(w.Body.Bytes(), &v))
	if why := d.off(told.Content["application/json"].Schema, v); why != "" {
		t.Errorf("%s %s: %s", method, path, why)
	}
	if body != "" && w.Code < 300 {
		var sent any
		must(t, json.Unmarshal([]byte(body), &sent))
		if why := d.off(d.Paths[bare][strings.ToLower(method)].RequestBody.Content["application/json"].Schema, sent); why != "" {
			t.Errorf("%s %s: what was sent: %s", method, path, why)
		}
	}
}

// TestEntrySchemaIsTheBooksForm holds the schema of an entry, which writes
// itself, to one with every key and to the list of kinds, forms and measures.
func TestEntrySchemaIsTheBooksForm(t *testing.T) {
	doc := readOpenAPI(t)
	s := doc.Components.Schemas["Entry"]
	id := uuid.MustParse("019aba2c-8000-7000-8000-000000000001")
	full := book.Entry{ID: id, Day: deskToday, Time: "07:30", Who: "Rook", Kind: book.Picked, Note: "wet", Strikes: uuid.MustParse("019aba2c-8000-7000-8000-000000000002"), Received: deskNoon,
		Body: book.Body{What: "kale", Where: "B1", Form: "fresh", Amount: 2, Measure: unit.Mass, Extra: map[string]string{"for": "supper"}}}
	line, err := full.Line()
	must(t, err)
	var v map[string]any
	must(t, json.Unmarshal(line, &v))
	if why := doc.off(s, v); why != "" || len(v) != len(s.Properties) {
		t.Errorf("%s; %d keys, the schema has %d", why, len(v), len(s.Properties))
	}
	var kinds, forms []any
	for _, k := range book.Kinds() {
		kinds = append(kinds, string(k))
	}
	for _, f := range book.Forms() {
		forms = append(forms, f)
	}
	if !reflect.DeepEqual(s.Properties["kind"].Enum, kinds) || !reflect.DeepEqual(s.Properties["form"].Enum, forms) {
		t.Errorf("kinds %v, forms %v", s.Properties["kind"].Enum, s.Properties["form"].Enum)
	}
}

func TestAPIOnlyAtADesk(t *testing.T) {
	if w := call(t, newSite(t, Options{}), "GET", apiBase+"/outlook", ""); w.Code != 404 {
		t.Errorf("without a desk: status %d", w.Code)
	}
	d := deskOf(t, nil)
	h := deskSite(t, d)
	for path, want := range map[string]int{"/outlook": 404, "/stead": 404, "/entries": 404, "/stores": 404, "/levers": 404, "/openapi.json": 200, "/nothing": 404} {
		w := call(t, h, "GET", apiBase+path, "")
		if w.Code != want || !strings.HasPrefix(w.Header().Get("Content-Type"), "application/json") {
			t.Errorf("%s without a description: %d %s", path, w.Code, w.Header().Get("Content-Type"))
		}
	}
	if w := call(t, h, "DELETE", apiBase+"/entries", ""); w.Code != 405 || !strings.Contains(w.Header().Get("Allow"), "POST") {
		t.Errorf("DELETE: %d, allow %q", w.Code, w.Header().Get("Allow"))
	}
}

// TestAPIRefusesOtherSites proves that a page elsewhere can't write in the book.
func TestAPIRefusesOtherSites(t *testing.T) {
	d := fewYears(t)
	h := deskSite(t, d)
	body := `{"note": "rain 3 mm", "ids": ["019aba2c-8000-7000-8000-00000000000a"]}`
	for name, c := range map[string]struct {
		set  func(http.Header)
		want int
	}{
		"a form":       {func(h http.Header) { h.Set("Content-Type", "text/plain") }, 415},
		"no type":      {func(h http.Header) { h.Del("Content-Type") }, 415},
		"another site": {func(h http.Header) { h.Set("Sec-Fetch-Site", "cross-site") }, 403},
	} {
		r := httptest.NewRequest("POST", apiBase+"/entries", bytes.NewReader([]byte(body)))
		r.Header.Set("Content-Type", "application/json")
		c.set(r.Header)
		w := httptest.NewRecorder()
		h.ServeHTTP(w, r)
		if w.Code != c.want {
			t.Errorf("%s: status %d, want %d", name, w.Code, c.want)
		}
	}
	if s, err := d.Now(t.Context()); err != nil || len(s.All) != 0 {
		t.Errorf("%d entries were written, %v", len(s.All), err)
	}
}

// TestANoteSentAgainLater is what an outbox does: its day is the one it was
// written on, and what it said then stands.
func TestANoteSentAgainLater(t *testing.T) {
	d := fewYears(t)
	h := deskSite(t, d)
	body := `{"note": "rain 3 mm", "day": "2026-11-23", "ids": ["019aba2c-8000-7000-8000-00000000000a"]}`
	if w := call(t, h, "POST", apiBase+"/entries", body); w.Code != 201 || !strings.Contains(w.Body.String(), `"2026-11-23"`) {
		t.Fatalf("%d %s", w.Code, w.Body)
	}
	again := strings.Replace(body, `"2026-11-23"`, `"2026-11-25"`, 1)
	if w := call(t, h, "POST", apiBase+"/entries", again); w.Code != 200 || !strings.Contains(w.Body.String(), `"2026-11-23"`) {
		t.Errorf("%d %s", w.Code, w.Body)
	}
	if s, _ := d.Now(t.Context()); len(s.Entries) != 1 {
		t.Errorf("%d entries stand", len(s.Entries))
	}
}

func FuzzAPINote(f *testing.F) {
	for _, s := range []string{`{"note": "rain 3 mm", "ids": ["019aba2c-8000-7000-8000-00000000000a"]}`, `{"entries": [{"id": "019aba2c-8000-7000-8000-00000000000a", "day": "2026-11-25", "kind": "note", "note": "x"}]}`, `{"note": "", "sure": true}`, `[]`, `{"ids": [1]}`} {
		f.Add(s)
	}
	d := fewYears(f)
	h := deskSite(f, d)
	f.Fuzz(func(t *testing.T, body string) {
		if body == "" {
			return
		}
		switch w := call(t, h, "POST", apiBase+"/entries", body); w.Code {
		case 200, 201, 400, 409, 413, 422:
			if !json.Valid(w.Body.Bytes()) {
				t.Errorf("answer %q", w.Body)
			}
		default:
			t.Errorf("status %d: %s", w.Code, w.Body)
		}
	})
}

// TestAPICautions: what is written through the interface is answered with the
// cautions that its page shows for the same words.
func TestAPICautions(t *testing.T) {
	d := fewYears(t)
	h := deskSite(t, d)
	for i, text := range []string{"foraged 1 kg acorns", "put up 5 quarts carrots", "closed drum 1", "treated 20 L by filter", "Rook ill 1 day", "emptied 3 kg from digester", "rain 3 mm"} {
		said := html.UnescapeString(get(t, h, "GET", post(t, h, "/note", url.Values{"text": {text}}).Header().Get("Location")).Body.String())
		body := fmt.Sprintf(`{"note": %q, "sure": true, "ids": ["019aba2c-8000-7000-8000-0000000001%02d"]}`, text, i)
		w := call(t, h, "POST", apiBase+"/entries", body)
		var got apiWritten
		if must(t, json.Unmarshal(w.Body.Bytes(), &got)); w.Code != 201 || len(got.Cautions) != 1 {
			t.Errorf("%q: %d %s", text, w.Code, w.Body)
			continue
		}
		if (len(got.Cautions[0]) == 0) != (text == "rain 3 mm") {
			t.Errorf("%q has the cautions %q", text, got.Cautions[0])
		}
		for _, c := range got.Cautions[0] {
			if !strings.Contains(said, c) {
				t.Errorf("%q: the page does not say %q", text, c)
			}
		}
	}
	for _, path := range []string{"/stores", "/stead"} {
		var got struct{ Cautions []string }
		must(t, json.Unmarshal(call(t, h, "GET", apiBase+path, "").Body.Bytes(), &got))
		s, err := d.Now(t.Context())
		must(t, err)
		if !reflect.DeepEqual(got.Cautions, hearth.Cautions(s.Stead)) || len(got.Cautions) < 3 {
			t.Errorf("%s has the cautions %q", path, got.Cautions)
		}
	}
	var refused apiError
	must(t, json.Unmarshal(call(t, h, "POST", apiBase+"/entries", `{"note": "put up 3 kg garlic", "ids": []}`).Body.Bytes(), &refused))
	if len(refused.Lines) != 1 || len(refused.Lines[0].Cautions) == 0 {
		t.Errorf("a line in doubt: %+v", refused)
	}
}
