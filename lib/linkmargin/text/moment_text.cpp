#include "linkmargin/text/moment_text.hpp"

#include <chrono>
#include <cstddef>

namespace linkmargin {
namespace {

/// Takes figures and marks off the front of a text.
class Front {
 public:
  explicit Front(std::string_view text) : rest_(text) {}

  bool done() const { return rest_.empty(); }

  bool mark(std::string_view marks) {
    if (rest_.empty() || marks.find(rest_.front()) == marks.npos) return false;
    rest_.remove_prefix(1);
    return true;
  }

  /// A whole number of so many figures.
  std::optional<int> figures(std::size_t least, std::size_t most) {
    std::size_t count = 0;
    int number = 0;
    while (count < rest_.size() && rest_[count] >= '0' && rest_[count] <= '9') {
      if (++count > most) return {};
      number = 10 * number + (rest_[count - 1] - '0');
    }
    if (count < least) return {};
    rest_.remove_prefix(count);
    return number;
  }

 private:
  std::string_view rest_;
};

struct Date {
  int year, month, day;
};

std::string two_figures(int number) {
  return {static_cast<char>('0' + number / 10), static_cast<char>('0' + number % 10)};
}

std::optional<std::string> date_text(const Date& date) {
  const std::chrono::year_month_day day{std::chrono::year(date.year),
                                        std::chrono::month(static_cast<unsigned>(date.month)),
                                        std::chrono::day(static_cast<unsigned>(date.day))};
  if (!day.ok() || date.year < 1000) return {};
  return std::to_string(date.year) + "-" + two_figures(date.month) + "-" + two_figures(date.day);
}

/// The whole of what is left as a time of day.
std::optional<std::string> time_text(Front& front) {
  const auto hour = front.figures(1, 2);
  if (!hour || *hour > 23 || !front.mark(":")) return {};
  const auto minute = front.figures(2, 2);
  if (!minute || *minute > 59) return {};
  std::string text = two_figures(*hour) + ":" + two_figures(*minute);
  if (front.mark(":")) {
    const auto second = front.figures(2, 2);
    if (!second || *second > 59) return {};
    if (*second != 0) text += ":" + two_figures(*second);
  }
  return front.done() ? std::optional(text) : std::nullopt;
}

/// A date, and the time behind it where there is one.
std::optional<std::string> with_time(const Date& date, Front& front) {
  const auto day = date_text(date);
  if (!day || front.done()) return day;
  if (!front.mark(" Tt")) return {};
  const auto time = time_text(front);
  return time ? std::optional(*day + "T" + *time) : std::nullopt;
}

}  // namespace

std::optional<std::string> moment_text(std::string_view written) {
  Front as_time(written);
  if (auto time = time_text(as_time)) return time;
  Front front(written);
  const auto year = front.figures(4, 4);
  if (!year || !front.mark("-")) return {};
  const auto month = front.figures(1, 2);
  if (!month || !front.mark("-")) return {};
  const auto day = front.figures(1, 2);
  return day ? with_time({*year, *month, *day}, front) : std::nullopt;
}

std::optional<std::string> meant_moment(std::string_view written) {
  Front front(written);
  const auto day = front.figures(1, 2);
  if (!day || !front.mark(".")) return {};
  const auto month = front.figures(1, 2);
  if (!month || !front.mark(".")) return {};
  const auto year = front.figures(4, 4);
  return year ? with_time({*year, *month, *day}, front) : std::nullopt;
}

}  // namespace linkmargin
