#pragma once

#include <cstddef>
#include <string_view>

namespace linkmargin {

/// Something odd enough to be said, but perhaps meant: one of these a sentence.
enum class WarningCode {
  // Of a site.
  on_wall_in_room,
  on_wall_outside,
  on_upright_traced_wall,
  on_traced_wall,
  inside_obstacle,
  far_from_rooms,
  in_no_room,
  opening_without_floor,
  walls_side_by_side,
  look_alike,
  look_alike_letters,
  assumed_profiles,
  profiles_of_other_band,
  no_sub_band,
  power_over_limit,
  power_for_hopping,
  exponent_unused,
  ground_reflection_unused,
  nothing_over_rooms,
  roof_beside_rooms,
  apart_like_house,
  layer_alone,
  storey_jump,
  storey_jump_centimetres,
  storey_misfit,
  storey_misfit_least,
  storey_without_floor,
  width_closed,
  depth_closed,
  // Of what is predicted by it.
  materials_out_of_band,
  echoes_left_out,
  free_space_model,
  environment_of_other_band,
  coefficient_of_other_band,
  floor_factor_of_other_band,
  floors_not_stated,
  distance_not_stated,
  coefficients_of_one_floor,
  noise_not_stated,
  hub_hears_nothing,
  device_hears_nothing,
  beside_the_hub,
  many_walls,
  many_walls_of,
  echoes_decide,
  echoes_decide_for,
  repeater_unheard,
  far_neighbour,
  map_height,
  // Of readings.
  reading_elsewhere,
  reading_elsewhere_enough,
  reading_doors_open,
  reading_doors_closed,
  reading_of_other_hub,
  reading_way_taken,
  reading_replaced,
  columns_ignored,
  // Of what is learned, chosen and written.
  levels_lower,
  levels_higher,
  outliers_held_back,
  search_unsettled,
  learned_of_no_radio,
  calibrated_before,
  calibrated_before_pair,
  learned_walls_given,
  misfit_flatters,
  scale_assumed,
  slots_assumed,
  hub_left_out,
  repeater_left_out,
  sockets_unknown,
  radios_confined,
  area_points,
  no_moves_written,
  moves_written,
  no_changes_written,
  changes_written,
  places_written,
  // Of slips in a site: of places and sizes, and of the threshold.
  indoors_outside,
  far_below_ceiling,
  across_opening,
  moves_off_frame,
  storey_tall,
  room_long,
  room_far_apart,
  wall_thick,
  threshold_low,
  threshold_none
};
inline constexpr std::size_t kWarningCodes = static_cast<std::size_t>(WarningCode::threshold_none) + 1;

/// Its enumerator as text: as JSON and the files of languages have it.
std::string_view code_name(WarningCode code);

}  // namespace linkmargin
