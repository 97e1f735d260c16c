#include "support/plan_under.hpp"

#include "linkmargin/base/length_unit.hpp"
#include "linkmargin/base/number_text.hpp"
#include "linkmargin/report/drawing/picture_file.hpp"

#include "support/failure.hpp"
#include "support/input.hpp"

#include <algorithm>
#include <string>
#include <vector>

namespace linkmargin::cli {
namespace {

/// Metres of a picture's pixel: from a map of a town to a detail.
constexpr Range kPixelM{1e-5, 10, "metres of a pixel", "bounds of this program"};

/// Numbers with commas between; nothing where one is none.
std::vector<double> numbers_of(const std::string& text) {
  std::vector<double> numbers;
  for (std::size_t begin = 0; begin <= text.size();) {
    const std::size_t end = std::min(text.find(',', begin), text.size());
    const auto number = parse_number(text.substr(begin, end - begin));
    if (!number) return {};
    numbers.push_back(*number);
    begin = end + 1;
  }
  return numbers;
}

/// "2.35m", "7'8\"", "92in"; a number alone is in metres.
std::optional<double> line_m(const std::string& text) {
  const auto metres = parse_number(text);
  return metres ? metres : parse_length_m(text);
}

struct Scale {
  double pixel_m = 1;
  Point2 first_px;
};

Scale scale_of(const Arguments& arguments) {
  const std::string text = arguments.value("scale").value_or("");
  const std::size_t colon = text.find(':');
  const auto far_m = line_m(text.substr(0, colon));
  const auto ends = colon == std::string::npos ? std::vector<double>() : numbers_of(text.substr(colon + 1));
  if (!far_m || ends.size() != 4)
    throw Failure(kBadInput,
                  "--scale says how long a line of the picture is, its ends in pixels from the top "
                  "left corner: --scale 2.35m:120,840,512,840");
  const Point2 first{ends[0], ends[1]}, second{ends[2], ends[3]};
  const double far_px = distance(first, second);
  if (!(far_px > 0) || !kPixelM.contains(*far_m / far_px))
    throw Failure(kBadInput, "--scale gives no scale of a plan: " + shortest_text(*far_m) + " m for " +
                                 fixed_text(far_px, 1) + " pixels");
  return {*far_m / far_px, first};
}

}  // namespace

std::optional<PlanPicture> plan_under(const Arguments& arguments) {
  const auto file = arguments.value("under");
  if (!file) {
    for (const char* option : {"scale", "origin"}) {
      if (arguments.has(option)) throw Failure(kBadInput, std::string("--") + option + " goes with --under");
    }
    return {};
  }
  const Scale scale = scale_of(arguments);
  Point2 origin_px = scale.first_px;
  if (const auto typed = arguments.value("origin")) {
    const auto numbers = numbers_of(*typed);
    if (numbers.size() != 2)
      throw Failure(kBadInput, "--origin says where in the picture the plan's zero is: --origin 120,840");
    origin_px = {numbers[0], numbers[1]};
  }
  const std::string bytes = read_text(*file, kMostPictureBytes);
  if (bytes.size() > kMostPictureBytes)
    throw Failure(kBadInput,
                  shown_name(*file) + " is larger than " + std::to_string(kMostPictureBytes >> 20U) + " MiB");
  const auto picture = picture_file(bytes);
  if (!picture) throw Failure(kBadInput, shown_name(*file) + " is neither a PNG nor a JPEG");
  if (static_cast<double>(picture->width_px) * picture->height_px > kMostPicturePixels)
    throw Failure(kBadInput, shown_name(*file) + " has more than 100 million pixels");
  const Point2 size_m = scale.pixel_m * Point2{1.0 * picture->width_px, 1.0 * picture->height_px};
  return PlanPicture{.address = data_address(picture->media_type, bytes),
                     .lower_left_m = {-scale.pixel_m * origin_px.x, scale.pixel_m * origin_px.y - size_m.y},
                     .size_m = size_m};
}

}  // namespace linkmargin::cli
