#include "json_schema.hpp"

#include "linkmargin/site/edit/edit_value.hpp"
#include "linkmargin/site/layout/side.hpp"
#include "linkmargin/site/site.hpp"
#include "linkmargin/text/name_flaw.hpp"
#include "linkmargin/yaml/short_form/usual_tables.hpp"

#include "field_schema.hpp"

namespace linkmargin::schema {
namespace {

constexpr const char* kDraft = "https://json-schema.org/draft/2020-12/schema";

/// The key given: a part of a condition.
Json given(const char* key) {
  return {{"required", {key}}};
}

/// Any of the keys given.
Json any_given(const std::vector<const char*>& keys) {
  Json forms = Json::array();
  for (const char* key : keys) forms.push_back(given(key));
  return {{"anyOf", forms}};
}

Json counted(Json schema, const char* what, const Range& count) {
  const std::string least = std::string("min") + what;
  if (count.min > 0) schema[least] = static_cast<long>(count.min);
  schema[std::string("max") + what] = static_cast<long>(count.max);
  return schema;
}

Json list_of(Json item, const Range& count) {
  return counted({{"type", "array"}, {"items", std::move(item)}}, "Items", count);
}

/// A map from names to values of one form.
Json map_of(Json value, const Range& count, const Shared& shared, const Json& not_named = nullptr) {
  Json names = shared.ref("name");
  if (!not_named.is_null()) names["not"] = {{"enum", not_named}};
  return counted({{"type", "object"}, {"propertyNames", names}, {"additionalProperties", std::move(value)}},
                 "Properties", count);
}

Json local(const std::string& name) {
  return {{"$ref", "#/$defs/" + name}};
}

/// A section that may stand there without a value.
Json or_nothing(Json section) {
  section["type"] = {"object", "null"};
  return section;
}

/// A key of `radio` that goes with some models only.
Json only_with(const char* key, const std::vector<const char*>& models) {
  return {{"if", given(key)},
          {"then", {{"required", {"model"}}, {"properties", {{"model", {{"enum", models}}}}}}}};
}

Json profile_conditions() {
  const std::vector<const char*> powers{"erp_dbm", "eirp_dbm", "power_dbm"};
  const std::vector<const char*> noise{"bandwidth_khz", "noise_figure_db", "required_snr_db"};
  Json one_power = Json::array();
  for (const char* key : powers) one_power.push_back(given(key));
  one_power.push_back({{"not", any_given(powers)}});
  Json all_noise{{"required", noise}, {"not", given("sensitivity_dbm")}};
  Json level = given("sensitivity_dbm");
  level["not"] = any_given(noise);
  const Json silent{
      {"not", any_given({"sensitivity_dbm", "bandwidth_khz", "noise_figure_db", "required_snr_db"})}};
  const Json two_way{{"required", {"two_way"}},
                     {"properties", {{"two_way", {{"enum", {true, "on", "yes"}}}}}}};
  const Json receives = any_given({"sensitivity_dbm", "bandwidth_khz"});
  return {{"dependentRequired", {{"power_dbm", {"gain_dbi"}}}},
          {"allOf",
           {{{"oneOf", one_power}},
            {{"oneOf", {level, all_noise, silent}}},
            {{"if", two_way}, {"then", {{"allOf", {receives, any_given(powers)}}}}},
            any_given({"erp_dbm", "eirp_dbm", "power_dbm", "sensitivity_dbm", "bandwidth_khz"})}}};
}

Json correlation() {
  const Json parameter = local("parameter");
  return tuple_schema({parameter, parameter, number_schema(limits::kCorrelation)});
}

/// A switch, or the keys of a noun.
Json switch_or(Json keys, const Shared& shared) {
  return {{"oneOf", {shared.ref("switch"), std::move(keys)}}};
}

}  // namespace

namespace {

template <typename Rows>
Json names_of(const Rows& rows) {
  Json names = Json::array();
  for (const auto& [name, row] : rows) names.push_back(name);
  return names;
}

/// Rows from front to back: a depth, and widths by the names of rooms.
Json grid_schema(const Shared& shared) {
  Json row = map_of(length_schema(limits::kRoomSideM, shared), limits::kGridCells, shared);
  row["maxProperties"] = static_cast<long>(limits::kGridCells.max) + 1;
  row["minProperties"] = 2;
  row["properties"] = {{"depth_m", length_schema(limits::kRoomSideM, shared)}};
  row["required"] = {"depth_m"};
  return list_of(std::move(row), limits::kGridRows);
}

/// A side of a room, or two.
Json flush_schema() {
  Json words = Json::array();
  for (const auto& side : layout::kSideWords) words.push_back(side.word);
  for (const auto& first : layout::kSideWords) {
    for (const auto& second : layout::kSideWords) {
      if (layout::is_upright(first.meaning) != layout::is_upright(second.meaning))
        words.push_back(std::string(first.word) + " " + std::string(second.word));
    }
  }
  return {{"enum", words}};
}

Json length_or_pair(const Shared& shared, const Range& range) {
  const Json number = length_schema(range, shared);
  return {{"oneOf", {number, tuple_schema({number, number})}}};
}

Json text_or_pair(const Shared& shared, const Range& range) {
  const Json number = length_schema(range, shared);
  return {{"oneOf", {shared.ref("text"), tuple_schema({number, number})}}};
}

/// The name of a material, with a thickness or not, or the keys of a construction.
Json construction_schema(const Shared& shared) {
  return {{"description", "What a wall, slab or leaf is made of."},
          {"oneOf", {shared.ref("name"), object_schema<Construction>(shared, "")}}};
}

/// A key of a storey that is needed as soon as it has so many rooms.
Json with_rooms(int rooms, const char* key) {
  const Json so_many{{"rooms", {{"type", "object"}, {"minProperties", rooms}}}};
  return {{"if", {{"required", {"rooms"}}, {"properties", so_many}}}, {"then", given(key)}};
}

/// A site: usual walls of every storey with rooms, unless a construction gives them.
Json site_conditions() {
  const Json walls{{"allOf", {with_rooms(1, "outer_wall"), with_rooms(2, "inner_wall")}}};
  const Json storeys{{"items", {{"anyOf", {given("construction"), walls}}}}};
  return {{"if", {{"not", given("construction")}}}, {"then", {{"properties", {{"storeys", storeys}}}}}};
}

/// A storey: every room has a shape of its own, unless a grid gives it.
Json storey_conditions() {
  const Json shapes{{"additionalProperties", any_given({"size_m", "rect_m", "corners_m", "over"})}};
  return {{"if", {{"not", given("grid")}}}, {"then", {{"properties", {{"rooms", shapes}}}}}};
}

/// A room: one shape at most.
Json room_conditions() {
  const std::vector<const char*> shapes{"size_m", "rect_m", "corners_m"};
  Json ways = Json::array();
  for (const char* key : shapes) ways.push_back(given(key));
  ways.push_back({{"not", any_given(shapes)}});
  return {{"oneOf", ways}};
}

/// An opening: one way to say which wall.
Json opening_conditions() {
  Json in_room{{"required", {"in", "wall"}}, {"not", given("between")}};
  Json between = given("between");
  between["not"] = any_given({"in", "wall"});
  Json traced = given("wall");
  traced["not"] = any_given({"in", "between"});
  return {{"oneOf", {in_room, between, traced}}};
}

/// An area: one way to say its shape.
Json area_conditions() {
  Json ways = Json::array();
  for (const char* key : {"in", "size_m", "rect_m", "corners_m"}) ways.push_back(given(key));
  return {{"oneOf", ways}};
}

/// A radio: coordinates, or what it hangs at.
Json radio_place_conditions() {
  Json figures = given("at_m");
  figures["not"] = any_given({"in", "on", "at"});
  Json words = any_given({"in", "on"});
  words["not"] = given("at_m");
  return {{"oneOf", {figures, words}}};
}

}  // namespace

Json part_schema(const Part& part, const Shared& shared) {
  const std::string form(part.form);
  if (form == "materials" || form == "profiles") return shared.ref(form);
  if (form == "storeys") return list_of(local("storey"), *part.range);
  if (form == "hubs") return map_of(local("hub"), *part.range, shared);
  if (form == "repeaters") return or_nothing(map_of(local("repeater"), *part.range, shared));
  if (form == "devices") return or_nothing(map_of(local("device"), *part.range, shared));
  if (form == "areas") return or_nothing(map_of(local("area"), *part.range, shared));
  if (form == "rooms") return map_of(local("room"), *part.range, shared, Json::array({kOutside}));
  if (form == "boundaries") return list_of(local("boundary"), *part.range);
  if (form == "walls") return list_of(local("wall"), *part.range);
  if (form == "openings") return list_of(local("opening"), *part.range);
  if (form == "obstacles") return list_of(local("obstacle"), *part.range);
  if (form == "floor_openings") return list_of(local("floor_opening"), *part.range);
  if (form == "learned_materials") return map_of(shared.ref("learned_shift"), *part.range, shared);
  if (form == "learned_radios")
    return map_of(object_schema<LearnedRadio>(shared, "What was learned of one radio."), *part.range, shared);
  if (form == "correlations") return list_of(correlation(), *part.range);
  if (form == "losses") return list_of(object_schema<LossPoint>(shared, ""), *part.range);
  if (form == "electrical") return object_schema<ElectricalProperties>(shared, "");
  if (form == "layers") return list_of(object_schema<Layer>(shared, ""), *part.range);
  if (form == "use") return list_of({{"enum", kMaterialUses}}, *part.range);
  if (form == "material_group") return {{"enum", kMaterialGroups}};
  if (form == "units") return object_schema<Units>(shared, "");
  if (form == "house") return {{"enum", names_of(house_constructions())}};
  if (form == "opening_kind") return {{"enum", names_of(opening_kinds())}};
  if (form == "measured") return {{"enum", {"middle", "inside"}}};
  if (form == "room" || form == "opening") return shared.ref("name");
  if (form == "rooms_below")
    return {{"oneOf", {shared.ref("name"), list_of(shared.ref("name"), limits::kRoomsBelow)}}};
  if (form == "size_m")
    return tuple_schema({length_schema(*part.range, shared), length_schema(*part.range, shared)});
  return local(form);  // radio, reading, fading, calibration, between, capacity, may_move, mount, line_m,
                       // sockets, construction, grid, flush, shift_m, spot
}

std::string site_schema() {
  const Shared shared{"materials.schema.json"};
  Json between = tuple_schema({shared.ref("name"), shared.ref("name")});
  between["uniqueItems"] = true;
  const Json wall_spot{
      {"type", "string"},
      {"pattern",
       "^((left|right) wall, *[^,]+ from (top|bottom)|(top|bottom) wall, *[^,]+ from (left|right))$"}};
  const Json socket{{"description", "A mains socket of the room."},
                    {"oneOf",
                     {wall_spot,
                      {{"type", "object"},
                       {"required", {"on"}},
                       {"properties", {{"on", wall_spot}}},
                       {"additionalProperties", false}},
                      {{"type", "object"},
                       {"required", {"at_m"}},
                       {"properties", {{"at_m", local("point_m")}}},
                       {"additionalProperties", false}}}}};
  const Json slots = number_schema(limits::kCapacity, true);
  const Json along = length_schema(limits::kPlanCoordinateM, shared);
  const Json radio_conditions{
      {"allOf",
       {only_with("form", {"site_general"}), only_with("constant_loss_db", {"multi_wall"}),
        only_with("environment", {"log_distance", "site_general"})}}};
  Json schema{{"$schema", kDraft}, {"title", "linkmargin site"}};
  schema.update(object_schema<Site>(shared,
                                    "One place: its building, its radios and what is known of both. Lengths "
                                    "in metres, or in feet by units; x to the right and y up "
                                    "the sheet. What a schema cannot say (rooms that overlap, names that "
                                    "nothing has) the program checks.",
                                    site_conditions()));
  schema["$defs"] = {
      {"point_m", tuple_schema({along, along})},
      {"corners_m", list_of(local("point_m"), limits::kCorners)},
      {"line_m", list_of(local("point_m"), limits::kLinePoints)},
      {"between", between},
      {"socket", socket},
      {"sockets", {{"anyOf", {local("socket"), list_of(local("socket"), limits::kSockets)}}}},
      {"capacity",
       {{"oneOf",
         {slots, counted(map_of(slots, limits::kClasses, shared), "Properties", limits::kClasses)}}}},
      {"parameter",
       {{"type", "string"},
        {"description", "Where a parameter stands in the file: a JSON Pointer."},
        {"pattern",
         "^(/calibration/offset_db|/radio/exponent|/reading/(zero|full)_dbm|/calibration/materials/[^/]+/"
         "shift_db)$"}}},
      {"radio", object_schema<PropagationSettings>(shared, "", radio_conditions)},
      {"fading", switch_or(object_schema<Fading>(shared, ""), shared)},
      {"reading", object_schema<ReadingScale>(shared, "")},
      {"calibration", object_schema<Calibration>(shared, "")},
      {"construction", construction_schema(shared)},
      {"grid", grid_schema(shared)},
      {"flush", flush_schema()},
      {"shift_m", length_or_pair(shared, limits::kPlanCoordinateM)},
      {"spot", text_or_pair(shared, limits::kSpotM)},
      {"storey", object_schema<Storey>(shared, "", storey_conditions())},
      {"room", object_schema<Room>(shared, "", room_conditions())},
      {"boundary", object_schema<Boundary>(shared, "Where the wall between two rooms differs.")},
      {"wall", object_schema<TracedWall>(shared, "A traced wall that belongs to no room.")},
      {"opening",
       object_schema<Opening>(shared, "A door, shutter, window or hole in a wall.", opening_conditions())},
      {"obstacle", object_schema<Obstacle>(shared, "A thing in a room; it costs its loss once per passage.")},
      {"floor_opening", object_schema<FloorOpening>(shared, "A hole in the slab under a storey.")},
      {"may_move", object_schema<Mobility>(shared, "How far it may be moved.")},
      {"mount", object_schema<Mount>(shared, "The metal that it is fixed on; on top of mount_loss_db.")},
      {"hub", object_schema<Hub>(shared, "", radio_place_conditions())},
      {"repeater", object_schema<Repeater>(shared, "", radio_place_conditions())},
      {"device", object_schema<Device>(shared, "", radio_place_conditions())},
      {"area", object_schema<Area>(shared, "Where hand-held remotes are used.", area_conditions())},
      {"new_radio", object_schema<NewRadio>(shared, "A hub or repeater that an edit adds.")},
      {"new_device", object_schema<NewDevice>(shared, "A device that an edit adds.")},
      {"new_obstacle",
       object_schema<Obstacle>(shared, "An obstacle that an edit adds.", Json::object(), Naming::elsewhere)}};
  return json_text(schema);
}

std::string materials_schema() {
  const Shared shared{""};
  const Json tables{{"materials", shared.ref("materials")},
                    {"learned", map_of(shared.ref("learned_shift"), limits::kTableRows, shared)},
                    {"profiles", shared.ref("profiles")}};
  const Json name{
      {"type", "string"},
      {"minLength", 1},
      {"maxLength", kMaxNameBytes},
      {"pattern",
       R"(^(?![ \u00a0\u1680\u2000-\u200a\u202f\u205f\u3000])(?!.*[ \u00a0\u1680\u2000-\u200a\u202f\u205f\u3000]$)[^\u0000-\u001f\u007f-\u009f\u00ad\u034f\u061c\u115f\u1160\u17b4\u17b5\u180b-\u180f\u200b-\u200f\u2028-\u202e\u2060-\u206f\u2800\u3164\ue000-\uf8ff\ufdd0-\ufdef\ufe00-\ufe0f\ufeff\uffa0\ufff0-\ufffb\ufffe\uffff]+$)"},
      {"description", "Up to 80 bytes, without characters that cannot be seen; compared as written."}};
  const Json material_conditions{{"dependentRequired", {{"frequency_mhz", {"loss_db"}}}}};
  Json schema{{"$schema", kDraft},
              {"title", "linkmargin tables of materials or of device profiles"},
              {"description",
               "A file for --materials FILE has the key materials, learned or both; the table of device "
               "profiles has the key profiles."},
              {"type", "object"},
              {"oneOf", {any_given({"materials", "learned"}), given("profiles")}},
              {"additionalProperties", false},
              {"properties", tables}};
  schema["$defs"] = {
      {"name", name},
      {"text",
       {{"type", "string"},
        {"maxLength", limits::kMaxTextBytes},
        {"description", "Free text, up to 2000 bytes."}}},
      {"length",
       {{"type", "string"},
        {"description", "A length with its unit: 2.3m, 265 cm, 7'6\", 7' 6 1/2\", 7.5ft, 6in."},
        {"pattern",
         "^[+-]?[0-9]+([.][0-9]+)?(/[0-9]+| [0-9]+/[0-9]+)? *(m|dm|cm|mm|km|ft|in|'|\")"
         "( *[0-9]+([.][0-9]+)?(/[0-9]+| [0-9]+/[0-9]+)? *(cm|mm|in|\")?)?$"}}},
      {"switch", {{"enum", {true, false, "on", "off", "yes", "no"}}}},
      {"learned_shift",
       object_schema<LearnedShift>(shared, "What was learned from readings about a material.")},
      {"materials",
       map_of(shared.ref("material"), limits::kTableRows, shared, Json::array({kNoMaterial, kAir}))},
      {"material", object_schema<Material>(shared, "", material_conditions)},
      {"profiles", map_of(shared.ref("profile"), limits::kTableRows, shared)},
      {"profile", object_schema<Profile>(shared, "", profile_conditions())}};
  return json_text(schema);
}

}  // namespace linkmargin::schema
