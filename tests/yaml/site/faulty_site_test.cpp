#include "linkmargin/yaml/site/site_yaml.hpp"
#include "linkmargin/yaml/tree/text_file.hpp"

#include "fixtures/fault_lines.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <filesystem>
#include <map>

using namespace linkmargin;

namespace {

std::string faults_of(const std::string& name) {
  const auto text = read_text_file(LINKMARGIN_TEST_DATA "/faults/" + name + ".yaml");
  REQUIRE(text);
  return fault_lines(parse_site(*text, name + ".yaml", embedded_tables()));
}

/// What each file of tests/faults says, whole: file, line, column, message and hint.
const std::map<std::string, std::string> kExpected{
    {"anchors", R"(anchors.yaml:6:15: tags are not taken in this file, found '!metres' (leave it out)
anchors.yaml:7:17: anchors are not taken in this file, found '&usual' (write the value out in each place)
anchors.yaml:8:17: aliases are not taken in this file, found '*usual' (write the value out in each place)
)"},
    {"bad_indentation",
     R"(bad_indentation.yaml:5:4: this is no YAML: end of sequence not found (the indentation does not fit the lines above)
)"},
    {"bare_thickness", R"(bare_thickness.yaml:4:13: unknown material 'brick 30' (did you mean 'brick 0.3 m'? a thickness takes its unit)
bare_thickness.yaml:5:13: unknown material 'brick 12' (did you mean 'brick 0.12 m'? a thickness takes its unit)
bare_thickness.yaml:12:57: unknown material 'concrete 0.15' (did you mean 'concrete 0.15 m'? a thickness takes its unit)
bare_thickness.yaml:13:66: unknown material 'masonry block 200' (did you mean 'masonry block 0.2 m'? a thickness takes its unit)
bare_thickness.yaml:16:17: unknown material 'stud wall 10' (did you mean 'stud wall 0.1 m'? a thickness takes its unit)
)"},
    {"calibration_slips",
     R"(calibration_slips.yaml:4:14: offset_db: 340 is outside -60..60
calibration_slips.yaml:5:20: offset_sigma_db: -1.2 is outside 0..30 (did you mean 1.2, in dB?)
calibration_slips.yaml:6:3: unknown key 'exponent_sigm' (did you mean 'exponent_sigma'?)
calibration_slips.yaml:7:18: zero_sigma_db: expected a number, found "2 dB" (did you mean 2? the unit stands in the key)
calibration_slips.yaml:8:13: readings: expected a whole number, found "2.5"
calibration_slips.yaml:11:11: unknown material 'brik' (did you mean 'brick'?)
calibration_slips.yaml:12:18: missing key 'shift_db' in material 'timber door'
calibration_slips.yaml:15:7: the correlation of '/radio/exponent' and '/calibration/offset_db' stands there already
calibration_slips.yaml:16:7: a correlation of '/reading/zero_dbm' with itself
calibration_slips.yaml:17:27: unknown parameter '/reading/ful_dbm' (did you mean '/reading/full_dbm'?)
calibration_slips.yaml:18:66: correlations: 1 is outside -0.999999..0.999999
calibration_slips.yaml:19:7: correlations: expected a list of two parameters and a number, found 2 items
calibration_slips.yaml:20:7: correlations: expected a list of two parameters and a number, found "/reading/full_dbm"
)"},
    {"calibration_contradiction",
     R"(calibration_contradiction.yaml:4:3: no parameters can go together like that (the matrix of all correlations must be positive definite)
)"},
    {"comments_only", R"(comments_only.yaml:1:1: the file holds nothing but comments
)"},
    {"decimal_comma",
     R"(decimal_comma.yaml:6:15: height_m: expected a number, found "2,6" (did you mean 2.6? decimals take a point)
decimal_comma.yaml:7:48: thickness_m: expected a number, found "0,24" in quotation marks (did you mean 0.24? decimals take a point)
)"},
    {"device_outside",
     R"(device_outside.yaml:17:78: 'door contact' at 26.00 m is above the ceiling (2.60 m) of 'shop' in storey 'ground' (no storey holds that height)
)"},
    {"duplicate_names", R"(duplicate_names.yaml:6:5: duplicate key 'level_m' (it stands on line 5 already)
duplicate_names.yaml:13:7: duplicate name 'shop' (it stands on line 11 already)
duplicate_names.yaml:16:12: duplicate name 'ground' (it stands on line 4 already)
)"},
    {"empty", R"(empty.yaml:1:1: the file is empty
)"},
    {"fading_slips",
     R"(fading_slips.yaml:3:10: unknown key 'k_in_sight' (did you mean 'k_in_sight_db'?)
fading_slips.yaml:3:44: k_behind_walls_db: 70 is outside -20..20
fading_slips.yaml:3:64: k_over_time_db: expected a number, found "soft"
fading_slips.yaml:3:82: scattering: expected one of plane, space, found "spase" (did you mean 'space'?)
)"},
    {"fading_word", R"(fading_word.yaml:3:9: fading: expected on or off, found "of"
)"},
    {"fading_empty", R"(fading_empty.yaml:3:1: fading: expected a map, found nothing
)"},
    {"floor_opening_slips",
     R"(floor_opening_slips.yaml:14:9: floor opening 'shaft' lies outside the rooms of storey 'ground' (the slab under a storey spans its rooms)
floor_opening_slips.yaml:15:16: duplicate name 'shaft' (it stands on line 14 already)
floor_opening_slips.yaml:16:32: floor opening 'bow' crosses or touches itself at (2, 2) (list the corners in order round the outline)
floor_opening_slips.yaml:17:42: rect_m: 400 is outside 0.05..300 (did you mean 4 or 0.4, in metres?)
floor_opening_slips.yaml:18:45: unknown key 'height_m'
floor_opening_slips.yaml:19:9: missing key 'name' in this floor opening
floor_opening_slips.yaml:20:9: missing one of rect_m, corners_m in floor opening 'well'
)"},
    {"house_slips",
     R"(house_slips.yaml:5:11: measured: expected middle or inside, found "outside"
house_slips.yaml:6:1: unknown key 'height_m' at this place (it belongs in a storey, beside its name)
house_slips.yaml:7:1: unknown key 'floor' at this place (it belongs in a storey, beside its name)
house_slips.yaml:19:9: openings 'back door' and 'back window' overlap by 0.70 m (from_left_m, from_right_m or at_m says where one is; without, it is in the middle of the wall)
house_slips.yaml:21:9: openings 'side door' and 'side window' overlap by 0.90 m (from_bottom_m, from_top_m or at_m says where one is; without, it is in the middle of the wall)
house_slips.yaml:22:9: opening 'inner door' has no wall: none stands between 'store' and 'kitchen' (they are 2.85 m apart; 'store' borders 'landing' (right); 'kitchen' borders 'hall' (below))
house_slips.yaml:23:9: opening 'second inner door' has no wall: none stands between 'landing' and 'kitchen' (they are 0.93 m apart; 'landing' borders 'hall' (right), 'store' (left); 'kitchen' borders 'hall' (below))
house_slips.yaml:27:49: at: expected left, right, bottom or top of the opening, or over it, found "above"
house_slips.yaml:29:13: in: unknown room 'cellar'
)"},
    {"key_is_list", R"(key_is_list.yaml:2:3: a key must be text
)"},
    {"many_faults",
     R"(many_faults.yaml:4:18: frequency_mhz: 868300000 is outside 300..6000 (did you mean 868.3, in MHz?)
many_faults.yaml:5:3: unknown key 'modle' (did you mean 'model'?)
many_faults.yaml:6:37: full_dbm: expected a number, found "loud" in quotation marks
many_faults.yaml:6:65: weak_below_percent: 140 is outside 0..100
many_faults.yaml:8:39: sigma_db: expected a finite number, found ".nan"
many_faults.yaml:10:36: eirp_dbm: stands beside erp_dbm (give only one of erp_dbm, eirp_dbm, power_dbm)
many_faults.yaml:14:15: height_m: 210 is outside 0.5..60 (did you mean 2.1, in metres?)
many_faults.yaml:15:28: unknown material 'brik' (did you mean 'brick'?)
many_faults.yaml:19:30: rect_m: 600 is outside 0.2..300 (did you mean 6 or 0.6, in metres?)
many_faults.yaml:20:13: rooms 'shop' and 'hall' overlap by 1.00 m, over 4.00 m of their common side (one of them is 1.00 m too wide, or that much too far to the side; 1 more fault about these rooms may follow from it)
many_faults.yaml:21:25: room 'bow' crosses or touches itself at (2, 12) (list the corners in order round the outline)
many_faults.yaml:22:7: duplicate name 'shop' (it stands on line 18 already)
many_faults.yaml:25:76: width_m: expected a number, found "wide"
many_faults.yaml:27:94: others: -1 is outside 0..100000
many_faults.yaml:29:27: unknown profile 'contct' (did you mean 'contact'?)
many_faults.yaml:29:43: unknown storey 'grond' (did you mean 'ground'?)
many_faults.yaml:30:82: unknown hub 'hob' (did you mean 'hub'?)
many_faults.yaml:30:97: missing one of radius_m, along_m, within, within_m in may_move
many_faults.yaml:31:51: at_m: expected [x, y], found 1 value
many_faults.yaml:31:69: unknown key 'colour'
many_faults.yaml:33:10: missing one of in, size_m, rect_m, corners_m in area 'drive'
)"},
    {"material_slips", R"(material_slips.yaml:15:3: the material 'air' is built in and cannot be given
material_slips.yaml:16:22: loss_db: -30 is outside 0..150 (did you mean 30, in dB?)
material_slips.yaml:17:33: losses: stands beside loss_db (give only one of loss_db, losses, electrical, layers)
material_slips.yaml:18:12: missing one of loss_db, losses, electrical, layers in material 'nothing'
material_slips.yaml:19:72: frequency_mhz: two losses for the same frequency
material_slips.yaml:20:27: unknown material 'brik' (did you mean 'brick'?)
material_slips.yaml:20:57: 'stud wall' has no electrical properties, which a layer needs (layers are air or materials with electrical properties)
material_slips.yaml:20:110: thickness_m: 5 is outside 0.0001..3 (did you mean 0.05 or 0.005, in metres?)
material_slips.yaml:21:31: unknown use 'wal' (did you mean 'wall'?)
material_slips.yaml:22:69: frequency_mhz: goes with loss_db only
material_slips.yaml:23:76: to_mhz: is lower than from_mhz (swap the two?)
material_slips.yaml:24:43: reflects_percent: 95 % thrown back and 50.1 % let through are more than arrives (its loss leaves 49.9 at most)
material_slips.yaml:25:44: reflects_percent: 110 is outside 0..100
)"},
    {"missing_key", R"(missing_key.yaml:1:1: missing key 'radio'
missing_key.yaml:3:5: missing key 'height_m' in storey 'ground'
missing_key.yaml:12:8: missing one of at_m, in, on in hub 'hub'
)"},
    {"model_keys", R"(model_keys.yaml:2:37: form: goes with model: site_general only
model_keys.yaml:2:69: constant_loss_db: goes with model: multi_wall only
model_keys.yaml:2:85: the model has no use for an environment (environment serves log_distance and site_general)
model_keys.yaml:3:36: full_dbm must lie above zero_dbm
)"},
    {"model_slips",
     R"(model_slips.yaml:2:38: model: expected one of free_space, log_distance, walls, multi_wall, site_general, found "wals" (did you mean 'walls'?)
model_slips.yaml:2:57: diffraction: expected on or off, found "maybe"
model_slips.yaml:2:79: reverberation: expected on or off, found "loud"
)"},
    {"name_slips",
     "name_slips.yaml:2:7: site: a name takes no blank at its ends: \"name\u00A0\"\n"
     R"(name_slips.yaml:3:24: frequency_mhz: expected a number, found "0x364" (write it in decimal: 868)
name_slips.yaml:6:14: level_m: expected a number, found "1e400" (it is too large or too small for any number here)
name_slips.yaml:8:28: unknown material 'xylophone' (`linkmargin materials` lists the names)
name_slips.yaml:12:3: a name takes no blank at its ends: " hub"
)"
     "name_slips.yaml:14:3: a name takes no character that cannot be seen: \"till\u200Bcontact\" has U+200B\n"
     "name_slips.yaml:15:3: a name takes no character that cannot be seen: \"door \u202Etcatnoc\" has "
     "U+202E\n"
     R"(name_slips.yaml:16:3: a name takes no blank at its ends: "hall "
name_slips.yaml:17:27: unknown profile 'teapot' (known are: call point, carbon monoxide, contact, flood, fob, glass break, heat, hold-up button, hub, keypad, motion, one-way contact, outdoor motion, outdoor siren, pendant, relay, repeater, shock, siren, smoke, temperature)
)"},
    {"near_names", R"(near_names.yaml:10:29: size_m: expected [width, depth], found 3 values (did you mean [3.13, 3.24]? decimals take a point)
near_names.yaml:11:49: left_of: unknown room 'kichen' (did you mean 'kitchen'?)
near_names.yaml:12:29: size_m: expected [width, depth], found 3 values (decimals take a point)
near_names.yaml:15:65: from_left_m: 1.40 m and a width of 0.90 m reach beyond the end of the wall, which is 2.00 m long (from_left_m may be 1.10 m at most; without it the opening is in the middle)
near_names.yaml:16:71: from_left_m: 0.50 m and a width of 2.40 m reach beyond the end of the wall, which is 2.40 m long (from_left_m may be 0.00 m at most; without it the opening is in the middle)
near_names.yaml:25:38: at: no place in a room reads "right wall, 0,6 m from bottom" (did you mean "right wall, 0.6 m from bottom"? decimals take a point)
near_names.yaml:26:38: at: no place in a room reads "right wall, 60 from bottom" (did you mean "right wall, 0.6 m from bottom"? a length takes its unit)
near_names.yaml:27:23: missing key 'profile' in device 'hall carbon' (did you mean profile: carbon monoxide?)
near_names.yaml:28:23: missing key 'profile' in device 'landing smok' (did you mean 'smoke'?)
near_names.yaml:28:23: missing key 'at' in device 'landing smok'
near_names.yaml:29:23: missing key 'profile' in device 'hall PIR' (did you mean 'motion'?)
near_names.yaml:30:23: missing key 'profile' in device 'hall thing'
near_names.yaml:31:28: on: unknown opening 'shed door' (did you mean 'shed back door'?)
near_names.yaml:32:45: unknown storey 'attic'
near_names.yaml:33:38: at: expected [x, y], found 3 values (decimals take a point)
)"},
    {"no_value", R"(no_value.yaml:1:7: site: expected a name, found nothing
no_value.yaml:6:5: height_m: expected a number, found nothing
)"},
    {"not_finite", R"(not_finite.yaml:2:24: frequency_mhz: expected a finite number, found ".inf"
not_finite.yaml:5:14: level_m: expected a finite number, found "-.Inf"
not_finite.yaml:6:15: height_m: expected a finite number, found ".NaN"
not_finite.yaml:7:48: thickness_m: expected a finite number, found "nan"
not_finite.yaml:15:63: height_m: expected a finite number, found "+infinity"
not_finite.yaml:17:78: height_m: expected a number, found "1e999" (it is too large or too small for any number here)
)"},
    {"open_bracket",
     R"(open_bracket.yaml:15:63: this is no YAML: illegal flow end (this bracket closes nothing)
)"},
    {"open_quote", R"(open_quote.yaml:1:7: this quotation mark has no partner
)"},
    {"opening_off_wall",
     R"(opening_off_wall.yaml:13:61: opening 'street door' does not lie on a wall between 'shop' and 'outside': 1.50 m away from it
)"},
    {"opening_overhangs",
     R"(opening_overhangs.yaml:13:61: opening 'street door' overhangs the wall between 'shop' and 'outside' by 0.25 m (that wall is 6.00 m long, from (0, 0) to (6, 0); without at_m it is in the middle)
)"},
    {"overlapping_rooms",
     R"(overlapping_rooms.yaml:11:13: rooms 'shop' and 'hall' overlap by 1.00 m, over 4.00 m of their common side (one of them is 1.00 m too wide, or that much too far to the side)
)"},
    {"profile_slips", R"(profile_slips.yaml:15:14: missing key 'gain_dbi' in profile 'no gain'
profile_slips.yaml:16:24: erp_dbm: 500 is outside -40..36 (did you mean 27, in dBm?)
profile_slips.yaml:17:45: sensitivity_dbm: 105 is outside -150..-40 (did you mean -105, in dBm?)
profile_slips.yaml:18:37: two_way: the profile does not receive (give it a sensitivity)
profile_slips.yaml:19:14: profile 'silent' neither transmits nor receives (give it a power, a sensitivity or both)
profile_slips.yaml:20:14: missing key 'required_snr_db' in profile 'half'
profile_slips.yaml:20:43: bandwidth_khz: 125000 is outside 0.1..20000 (did you mean 125, in kHz?)
profile_slips.yaml:21:68: noise_figure_db: stands beside sensitivity_dbm (give sensitivity_dbm, or bandwidth_khz, noise_figure_db and required_snr_db)
)"},
    {"radio_slips",
     R"(radio_slips.yaml:2:38: noise: expected one of none, business, found "bussiness" (did you mean 'business'?)
radio_slips.yaml:2:64: noise_rise_db: 61 is outside 0..60
radio_slips.yaml:2:87: ground_reflection: expected on or off, found "wet"
)"},
    {"reach_slips", R"(reach_slips.yaml:15:86: along_m: expected 2..500 items, found 1
reach_slips.yaml:15:116: others: expected a whole number, found "many"
reach_slips.yaml:17:115: within: stands beside radius_m (give only one of radius_m, along_m, within, within_m)
)"},
    {"renamed_keys", R"(renamed_keys.yaml:2:31: unknown key 'routes' (it is called 'diffraction' now)
renamed_keys.yaml:2:44: unknown key 'echoes' (it is called 'reverberation' now)
renamed_keys.yaml:15:66: unknown key 'near_mains_m' (list the `sockets` of the room, and give `cable_m` for the reach from them)
)"},
    {"repeater_slips",
     R"(repeater_slips.yaml:15:80: repeaters go by each other and reach no hub: 'landing', 'loft' (one of them needs a hub, or no 'via')
repeater_slips.yaml:18:79: unknown repeater 'attic'
repeater_slips.yaml:18:91: unknown hub 'hub 3' (did you mean 'hub 2'?)
repeater_slips.yaml:21:78: 'third' goes by 3 repeaters, the system allows 2 ('hops' says how many it allows)
repeater_slips.yaml:24:75: repeater 'stairs' has no slots for devices without a class, which 'a' needs ('others' serves every class that is not named)
repeater_slips.yaml:25:75: 'b' is enrolled at repeater 'yard', which serves remotes of areas alone
repeater_slips.yaml:26:75: unknown repeater 'stares' (did you mean 'stairs'?)
repeater_slips.yaml:28:87: 'e' and 'd' are enrolled at repeater 'first', which goes to one hub: 'hub 2' or 'hub'
repeater_slips.yaml:29:75: repeater 'stairs' has no slots for devices without a class, which 'f' needs ('others' serves every class that is not named)
repeater_slips.yaml:29:88: 'f' is enrolled to hub 'hub 2', its repeater 'stairs' to hub 'hub'
)"},
    {"self_crossing",
     R"(self_crossing.yaml:11:25: room 'hall' crosses or touches itself at (7.5, 2) (list the corners in order round the outline)
)"},
    {"short_form_grid", R"(short_form_grid.yaml:8:15: measured: expected middle or inside, found "outside"
short_form_grid.yaml:10:53: duplicate name 'hall' (it stands on line 10 already)
short_form_grid.yaml:11:9: missing key 'depth_m' in this row of the grid
short_form_grid.yaml:11:32: wc: 0 is outside 0.2..300
short_form_grid.yaml:15:9: the cells of 'a' make no one outline: they must touch by an edge, without a court between them
short_form_grid.yaml:18:19: rect_m: the grid gives the room its place
short_form_grid.yaml:24:27: inner_wall: 'store' and 'shop' share a wall, and each says that it is of something else: 'stud wall' and 'stone' (the other statement is on line 22; a boundary between the two settles it)
short_form_grid.yaml:25:35: over: unknown room 'nowhere'
short_form_grid.yaml:29:38: rect_m: stands beside size_m (give only one of size_m, rect_m, corners_m)
short_form_grid.yaml:30:47: left_of: goes with size_m: coordinates give the room its place
short_form_grid.yaml:31:14: room 'alone' has no place: it is beside no other room (say what it is left_of, right_of, above, below or over)
)"},
    {"short_form_slips",
     R"(short_form_slips.yaml:4:15: construction: unknown construction 'brik 1930s' (did you mean 'brick 1930s'?)
short_form_slips.yaml:13:42: above: unknown room 'hal' (did you mean 'hall'?)
short_form_slips.yaml:14:36: left_of: these rooms stand by each other in a ring, so none has a place: 'a' is left_of 'b', 'b' is left_of 'c', 'c' is left_of 'a' (the other statement is on line 16)
short_form_slips.yaml:18:40: right_of: 'self' is right_of itself
short_form_slips.yaml:19:14: room 'alone' has no place: it is beside no other room (say what it is left_of, right_of, above, below or over)
short_form_slips.yaml:20:21: size_m: 'gap' is 4.35 m wide, but 6.00 m lie between 'shop' (right_of) and 'far' (left_of) (the other statement is on line 21)
short_form_slips.yaml:23:15: missing one of size_m, rect_m, corners_m in room 'nosize'
short_form_slips.yaml:24:22: size_m: expected [width, depth], found 1 value
short_form_slips.yaml:25:54: flush: left goes with above, below or over, not with right_of
short_form_slips.yaml:26:50: flush: expected left, right, bottom or top, or two of them such as top left, found "upper"
short_form_slips.yaml:27:16: missing one of size_m, rect_m, corners_m in room 'nothing'
short_form_slips.yaml:28:69: gap_m: goes with one neighbour on the same storey
short_form_slips.yaml:29:55: outer_wall: a thickness of 24 m is outside 0.0001..3 m
short_form_slips.yaml:31:82: from_left_m: 5.20 m and a width of 0.90 m reach beyond the end of the wall, which is 2.00 m long (from_left_m may be 1.10 m at most; without it the opening is in the middle)
short_form_slips.yaml:32:36: wall: expected left, right, bottom or top beside in, found "south"
short_form_slips.yaml:33:9: missing key 'wall' in opening 'd3'
short_form_slips.yaml:34:73: from_left_m: this wall runs along y (give from_bottom_m or from_top_m)
short_form_slips.yaml:35:49: kind: unknown kind of opening 'dor' (known are: back door, coated window, fire door, front door, garage door, glazed inner door, hatch, inner door, passage, patio door, roller shutter, steel door, window)
short_form_slips.yaml:36:9: missing key 'kind' in opening 'd6'
short_form_slips.yaml:37:29: between: stands beside in (give only one of between, in)
short_form_slips.yaml:38:24: in: unknown room 'hal' (did you mean 'hall'?)
short_form_slips.yaml:39:9: opening 'd9' has no wall: none stands between 'hall' and 'far' (they are 12.00 m apart; 'hall' borders 'shop' (right); 'far' borders 'thick' (above), 'words' (above))
short_form_slips.yaml:40:9: opening 'wide gate' overhangs the wall between 'hall' and 'outside' by 0.20 m (that wall is 2.00 m long, from (0, 0) to (2, 0): give a width_m that fits)
short_form_slips.yaml:41:66: from_bottom_m: stands beside at_m (one distance from one end is enough)
short_form_slips.yaml:44:23: at: no place in a room reads "corner upper left" (expected [x, y] within the room, or text such as: centre; corner top left; bottom wall; bottom wall, 1.2 m from left; 0.4 m from left and 0.3 m from top)
short_form_slips.yaml:46:27: at: this place lies outside 'hall', which is 2.00 m wide and 5.00 m deep (x and y count from the room's lower left corner)
short_form_slips.yaml:47:17: in: unknown room 'cellar'
short_form_slips.yaml:48:19: on: unknown opening 'long dor' (did you mean 'long door'?)
short_form_slips.yaml:49:35: at: expected left, right, bottom or top of the opening, or over it, found "top left"
short_form_slips.yaml:50:28: at: 'shop' has a bottom wall of 6.00 m
short_form_slips.yaml:51:6: missing key 'profile' in device 'u'
short_form_slips.yaml:52:13: missing key 'at' in device 't motion'
short_form_slips.yaml:53:18: in: stands beside at_m (give the place by coordinates, or by what it hangs at)
short_form_slips.yaml:54:13: missing one of at_m, in, on in device 'r motion'
short_form_slips.yaml:54:18: at: goes with in or on (coordinates take at_m)
short_form_slips.yaml:55:35: in: 'inner door' is not in a wall of 'far' (it lies between hall, shop)
short_form_slips.yaml:56:16: unknown profile 'valve' (known are: call point, carbon monoxide, contact, flood, fob, glass break, heat, hold-up button, hub, keypad, motion, one-way contact, outdoor motion, outdoor siren, pendant, relay, repeater, shock, siren, smoke, temperature)
)"},
    {"socket_slips",
     R"(socket_slips.yaml:10:48: sockets: expected a place such as "left wall, 0.4 m from bottom", found "left wall" (inside { } and [ ] put it in quotation marks, for it holds a comma)
socket_slips.yaml:10:59: sockets: expected a place such as "left wall, 0.4 m from bottom", found "0.4 m from bottom"
socket_slips.yaml:11:47: sockets: "left wall, 0.4 m from left": along this wall one measures from bottom or from top
socket_slips.yaml:11:82: use: expected one of ordinary, wet, found "damp"
socket_slips.yaml:12:47: the top wall of room 'store' is 3.00 m long, and the socket lies 3.50 m along it
socket_slips.yaml:13:86: room 'office' has 2 walls on its right: say where the socket is with at_m: [x, y]
socket_slips.yaml:14:66: missing one of on, at_m in socket
socket_slips.yaml:14:67: unknown key 'place'
socket_slips.yaml:14:81: sockets: expected a place such as "left wall, 0.4 m from bottom", found "2"
socket_slips.yaml:16:75: cable_m: 60 is outside 0..50 (did you mean 0.6 or 0.06, in metres?)
)"},
    {"tab_indentation",
     R"(tab_indentation.yaml:5:1: a tab indents this line; YAML takes spaces only (put spaces in its place)
)"},
    {"two_documents",
     R"(two_documents.yaml:14:1: a second document begins here; a file holds one (remove the '---')
)"},
    {"two_powers",
     R"(two_powers.yaml:15:33: eirp_dbm: stands beside erp_dbm (give only one of erp_dbm, eirp_dbm, power_dbm)
two_powers.yaml:15:48: power_dbm: stands beside erp_dbm (give only one of erp_dbm, eirp_dbm, power_dbm)
)"},
    {"unit_slip",
     R"(unit_slip.yaml:2:24: frequency_mhz: 868300000 is outside 300..6000 (did you mean 868.3, in MHz?)
unit_slip.yaml:6:15: height_m: 210 is outside 0.5..60 (did you mean 2.1, in metres?)
unit_slip.yaml:10:29: rect_m: 600 is outside 0.2..300 (did you mean 6 or 0.6, in metres?)
unit_slip.yaml:15:46: at_m: 5000 is outside -2000..2000 (did you mean 50 or 5, in metres?)
unit_slip.yaml:15:52: at_m: 3000 is outside -2000..2000 (did you mean 30 or 3, in metres?)
)"},
    {"unit_slip_corners",
     R"(unit_slip_corners.yaml:10:25: corners_m: 600 m along x is outside 0.2..300 (did you mean 6 or 0.6, in metres?)
)"},
    {"unknown_key", R"(unknown_key.yaml:6:5: unknown key 'colour'
unknown_key.yaml:16:53: unknown key 'hight_m' (did you mean 'height_m'?)
)"},
    {"unknown_names", R"(unknown_names.yaml:7:28: unknown material 'brik' (did you mean 'brick'?)
unknown_names.yaml:13:48: unknown room 'shp' (did you mean 'shop'?)
unknown_names.yaml:13:101: unknown material 'timbr door' (did you mean 'timber door'?)
unknown_names.yaml:17:27: unknown profile 'contct' (did you mean 'contact'?)
unknown_names.yaml:17:43: unknown storey 'grond' (did you mean 'ground'?)
unknown_names.yaml:17:55: unknown hub 'hob' (did you mean 'hub'?)
)"},
    {"wrong_type", R"(wrong_type.yaml:5:14: level_m: expected a number, found a list
wrong_type.yaml:6:15: height_m: expected a number, found "tall"
wrong_type.yaml:11:22: rect_m: expected [x, y, width, depth], found "6"
wrong_type.yaml:15:45: at_m: expected [x, y], found 3 values
wrong_type.yaml:15:66: height_m: expected a number, found "2" in quotation marks (remove the quotation marks)
wrong_type.yaml:17:88: slots: expected a whole number, found "1.5"
)"},
    {"permittivity",
     R"(permittivity.yaml:4:26: a: the permittivity a f^b is 0.982 at 6000 MHz, outside 1..10000 (it must hold from from_mhz to to_mhz; f is in GHz)
permittivity.yaml:5:27: a: the permittivity a f^b is 45700000 at 300 MHz, outside 1..10000 (it must hold from from_mhz to to_mhz; f is in GHz)
permittivity.yaml:6:38: c: the conductivity c f^d is 36000000000 at 6000 MHz, outside 0..1000000000 (it must hold from from_mhz to to_mhz; f is in GHz)
permittivity.yaml:7:28: 'rising': the permittivity a f^b is 0.868 at 868.3 MHz, outside 1..10000 (state it for the site's frequency)
)"},
    {"trade_words", R"(trade_words.yaml:4:24: unknown material 'Rebar Concrete'
trade_words.yaml:9:23: unknown material 'Stahlbeton' (did you mean 'reinforced concrete'?)
trade_words.yaml:10:28: unknown material 'breeze block' (did you mean 'concrete block wall' or 'masonry block'?)
trade_words.yaml:11:28: unknown material 'Drywall' (did you mean 'plasterboard' or 'stud wall'?)
trade_words.yaml:16:102: unknown material 'uPVC door' (did you mean 'plastic door'?)
trade_words.yaml:17:102: unknown material 'Up-and-over door' (did you mean 'garage door'?)
trade_words.yaml:18:100: unknown material 'xylophone' (`linkmargin materials` lists the names)
trade_words.yaml:20:18: unknown profile 'Zentrale' (did you mean 'hub'?)
trade_words.yaml:22:16: unknown profile 'door contact' (did you mean 'contact'?)
trade_words.yaml:23:16: unknown profile 'PIR' (did you mean 'motion'?)
trade_words.yaml:24:16: unknown profile 'smoke detectors' (did you mean 'smoke'?)
trade_words.yaml:25:16: unknown profile 'Bell-Box' (did you mean 'outdoor siren'?)
trade_words.yaml:26:16: unknown profile 'xylophone' (known are: call point, carbon monoxide, contact, flood, fob, glass break, heat, hold-up button, hub, keypad, motion, one-way contact, outdoor motion, outdoor siren, pendant, relay, repeater, shock, siren, smoke, temperature)
trade_words.yaml:27:16: unknown profile 'quartzite' (the known ones are listed at line 26)
trade_words.yaml:28:16: unknown profile 'turkontakt' (did you mean 'contact'?)
)"},
    {"unit_words", R"(unit_words.yaml:2:24: frequency_mhz: 2 is outside 300..6000 (did you mean 2000, in MHz?)
unit_words.yaml:2:26: unknown key '4 GHz' (did you mean frequency_mhz: 2400? decimals take a point)
unit_words.yaml:2:48: noise_rise_db: expected a number, found "3dB" (did you mean 3? the unit stands in the key)
unit_words.yaml:4:18: erp_dbm: expected a number, found "25 mW" (did you mean 14? the unit stands in the key)
unit_words.yaml:4:42: sensitivity_dbm: expected a number, found "-103 dBm" (did you mean -103? the unit stands in the key)
unit_words.yaml:4:67: bandwidth_khz: expected a number, found "12500 Hz" (did you mean 12.5? the unit stands in the key)
unit_words.yaml:4:67: bandwidth_khz: stands beside sensitivity_dbm (give sensitivity_dbm, or bandwidth_khz, noise_figure_db and required_snr_db)
unit_words.yaml:10:52: thickness_m: 0 is outside 0.0001..3
unit_words.yaml:10:54: unknown key '9' (did you mean thickness_m: 0.9? decimals take a point)
unit_words.yaml:13:22: rect_m: expected [x, y, width, depth], found 8 values (did you mean [6.5, 0.0, 3.2, 4.1]? decimals take a point)
unit_words.yaml:15:45: at_m: expected [x, y], found 4 values (did you mean [1.5, 2.3]? decimals take a point)
unit_words.yaml:18:69: height_m: expected a number, found "2 yards" (a length reads 2.65, 265cm, 8'8" or 8.7ft)
)"},
    {"unseen_names",
     "unseen_names.yaml:13:3: a name takes no character that cannot be seen: \"shop\uFE0F\" has U+FE0F\n"
     "unseen_names.yaml:14:3: a name takes no character that cannot be seen: \"shop\U000E0100\" has U+E0100\n"
     "unseen_names.yaml:15:3: a name takes no character that cannot be seen: \"shop\u3164\" has U+3164\n"
     "unseen_names.yaml:16:3: a name takes no character that cannot be seen: \"shop\u2800\" has U+2800\n"
     "unseen_names.yaml:17:3: a name takes no character that cannot be seen: \"shop\uFFFE\" has U+FFFE\n"
     "unseen_names.yaml:18:3: a name takes no character that cannot be seen: \"shop\uFFFF\" has U+FFFF\n"
     "unseen_names.yaml:19:3: a name takes no character that cannot be seen: \"shop\u00AD\" has U+00AD\n"
     "unseen_names.yaml:20:3: a name takes no character that cannot be seen: \"shop\u034F\" has U+034F\n"
     "unseen_names.yaml:21:3: a name takes no character that cannot be seen: \"shop\uE000\" has U+E000\n"
     "unseen_names.yaml:22:3: a name takes no character that cannot be seen: \"shop\u0378\" has U+0378\n"
     "unseen_names.yaml:23:3: a name takes no blank at its ends: \"\u3000shop\"\n"
     "unseen_names.yaml:24:3: a name takes no blank at its ends: \"shop\u2003\"\n"
     "unseen_names.yaml:25:3: a name takes no character that cannot be seen: \"shop\u115F\" has U+115F\n"},
};

}  // namespace

TEST_CASE("every file of the corpus gives exactly its faults") {
  for (const auto& [name, lines] : kExpected) {
    const auto& name_shown = name;
    CAPTURE(name_shown);
    CHECK(faults_of(name) == lines);
  }
}

TEST_CASE("the corpus holds no file that nobody looks at") {
  std::size_t files = 0;
  for (const auto& entry : std::filesystem::directory_iterator(LINKMARGIN_TEST_DATA "/faults")) {
    if (entry.path().extension() != ".yaml") continue;
    ++files;
    const std::string name = entry.path().stem().string();
    CAPTURE(name);
    CHECK((kExpected.count(name) == 1 || name == "alias_bomb"));
  }
  CHECK(files == kExpected.size() + 1);
}

TEST_CASE("one file shows 21 different faults at once") {
  const std::string lines = faults_of("many_faults");
  CHECK(std::count(lines.begin(), lines.end(), '\n') == 21);
}

TEST_CASE("an alias bomb is told and never unfolded") {
  const std::string lines = faults_of("alias_bomb");
  CHECK(lines.find("alias_bomb.yaml:2:4: anchors are not taken in this file, found '&a' (write the value out "
                   "in each place)\n") != std::string::npos);
  CHECK(lines.find("alias_bomb.yaml:10:20: aliases are not taken in this file, found '*h' (write the value "
                   "out in each place)\n") != std::string::npos);
  CHECK(std::count(lines.begin(), lines.end(), '\n') ==
        9 + 32 + 9 + 3);  // anchors, aliases, unknown and missing keys
}
