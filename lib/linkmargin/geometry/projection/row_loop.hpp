#pragma once

namespace linkmargin {

/// Where the projections of many panels begin and end in one row, in single precision. See PanelProjection,
/// whose arrays these are.
struct RowLoop {
  int count;  ///< of panels
  int row;
  float columns;
  float end_column;  ///< of the end, from the first centre
  float t;           ///< the row's distance from the end along y
  const float *left_ray, *left, *left_slope, *right_ray, *right, *right_slope;
  const float* certain;
  const int *first, *last;
  int *from, *to;
  int* doubtful;  ///< 1 where a centre lies too near a cut to tell
};

void run_row(const RowLoop& loop);

/// A cut kept within the row.
constexpr float within(float x, float low, float high) {
  x = x < low ? low : x;
  return x > high ? high : x;
}

}  // namespace linkmargin
