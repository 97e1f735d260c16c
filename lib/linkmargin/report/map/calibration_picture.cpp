#include "linkmargin/report/map/calibration_picture.hpp"

#include "linkmargin/report/drawing/sheet.hpp"
#include "linkmargin/report/map/calibration_signs.hpp"
#include "linkmargin/report/plan/plan_scale.hpp"
#include "linkmargin/report/words/calibration_words.hpp"
#include "linkmargin/text/display_text.hpp"

#include <algorithm>
#include <cmath>

namespace linkmargin {
namespace {

constexpr double kWidthPx = 780;
constexpr double kPlotPx = 620;  // both ways: a decibel is as long to the right as upwards
constexpr double kLeftPx = 78;
constexpr double kIndentPx = 42;
constexpr std::size_t kMostListed = 12;  // outliers in words

constexpr const char* kGrid = "#e3e6ea";

bool is_outlier(const CalibratedReading& found) {
  return found.outlier != OutlierReason::none;
}

class CalibrationSheet {
 public:
  CalibrationSheet(const Language& language, const std::vector<CalibrationJob>& jobs,
                   const CalibrationReport& report)
      : wording_(language), jobs_(jobs), report_(report), sheet_(kWidthPx) {
    double least = 0, most = 0;
    bool any = false;
    const auto take = [&](double dbm) {
      least = any ? std::min(least, dbm) : dbm;
      most = any ? std::max(most, dbm) : dbm;
      any = true;
    };
    for (const CalibratedReading& found : report.readings) {
      take(found.read_dbm);
      take(found.after_dbm - half_db(found));
      take(found.after_dbm + half_db(found));
    }
    if (!any) take(ReadingScale{}.zero.value), take(ReadingScale{}.full.value);
    constexpr double lines = 8, beside_db = 2;
    step_db_ = plan::round_length_m(std::max(1.0, (most - least + 2 * beside_db) / lines));
    least_ = step_db_ * std::floor((least - beside_db) / step_db_);
    most_ = step_db_ * std::ceil((most + beside_db) / step_db_);
  }

  std::string draw() {
    title();
    top_ = sheet_.y() + 36;
    svg::Writer& out = sheet_.body();
    grid(out);
    for (const CalibratedReading& found : report_.readings) interval(out, found);
    signs(out);
    sheet_.go_to(top_ + kPlotPx + 52);
    legend();
    list_outliers();
    sheet_.skip(8);
    sheet_.write(wording_.say("warning.misfit_flatters"), kSmallPrint);
    sheet_.write(wording_.say("caution.short.reading_decides"), kSmallPrint);
    return sheet_.svg();
  }

 private:
  static double half_db(const CalibratedReading& found) { return interval_deviations() * found.sigma_db; }

  Point2 at(double read_dbm, double expected_dbm) const {
    const double px_per_db = kPlotPx / (most_ - least_);
    return {kLeftPx + (read_dbm - least_) * px_per_db, top_ + (most_ - expected_dbm) * px_per_db};
  }

  std::string words(const char* key) const { return wording_.say(std::string("calibrate.") + key); }

  void title() {
    sheet_.write(sites_words(wording_, jobs_), kTitle);
    const std::string misfit = misfit_words(wording_, report_);
    sheet_.write(wording_.counted("calibrate.picture.lead", report_.readings.size()) +
                     (misfit.empty() ? "" : " " + misfit),
                 kLead);
  }

  void grid(svg::Writer& out) const {
    const auto figure = [&](Point2 place, double dbm, const char* align) {
      out.text(place, wording_.number(dbm == 0 ? 0 : dbm),
               {{"fill", kFaintInk}, {"font-size", "11"}, {"text-anchor", align}});
    };
    const int lines = static_cast<int>(std::lround((most_ - least_) / step_db_));
    for (int i = 0; i <= lines; ++i) {
      const double dbm = least_ + i * step_db_;
      draw_line(out, at(dbm, least_), at(dbm, most_), kGrid, "1");
      draw_line(out, at(least_, dbm), at(most_, dbm), kGrid, "1");
      figure(at(dbm, least_) + Point2{0, 16}, dbm, "middle");
      figure(at(least_, dbm) + Point2{-7, 4}, dbm, "end");
    }
    draw_equal_line(out, at(least_, least_), at(most_, most_));
    const Point2 corner = at(least_, most_);
    draw_frame(out, {corner, corner + Point2{kPlotPx, kPlotPx}}, kFaintInk);
    out.text(corner + Point2{-kLeftPx + Sheet::kMarginPx, -14}, words("picture.up"),
             {{"fill", kInk}, {"font-size", "12.5"}});
    out.text(at(most_, least_) + Point2{0, 36}, words("picture.right"),
             {{"fill", kInk}, {"font-size", "12.5"}, {"text-anchor", "end"}});
  }

  void interval(svg::Writer& out, const CalibratedReading& found) const {
    const double half = half_db(found);
    draw_interval(out, at(found.read_dbm, found.after_dbm - half),
                  at(found.read_dbm, found.after_dbm + half));
  }

  std::string tooltip(const CalibratedReading& found) const {
    return printable(wording_.say("calibrate.picture.tooltip",
                                  {{"row", row_words(wording_, jobs_, found)},
                                   {"read", wording_.with_unit(found.read_dbm, 1, "dBm")},
                                   {"expected", wording_.with_unit(found.after_dbm, 1, "dBm")},
                                   {"low", wording_.number(found.after_dbm - half_db(found), 1)},
                                   {"high", wording_.number(found.after_dbm + half_db(found), 1)}}));
  }

  /// Outliers above all others, so that none is hidden.
  void signs(svg::Writer& out) const {
    for (const CalibratedReading& found : report_.readings) {
      if (!is_outlier(found))
        draw_sign(out, at(found.read_dbm, found.after_dbm), found.kind, false, tooltip(found));
    }
    std::size_t number = 0;
    for (const CalibratedReading& found : report_.readings) {
      if (!is_outlier(found)) continue;
      const Point2 place = at(found.read_dbm, found.after_dbm);
      draw_sign(out, place, found.kind, true, tooltip(found));
      const bool left = found.read_dbm > (least_ + most_) / 2;  // towards the middle: never over the rim
      out.text(place + Point2{left ? -11.0 : 11.0, 4}, std::to_string(++number),
               {{"fill", kInk},
                {"font-size", "12"},
                {"font-weight", "bold"},
                {"text-anchor", left ? "end" : "start"}});
    }
  }

  void legend() {
    svg::Writer& out = sheet_.body();
    const auto any = [&](auto test) { return std::ranges::any_of(report_.readings, test); };
    const auto entry = [&](const char* key, auto draw) {
      draw(Point2{Sheet::kMarginPx + 16, sheet_.y() + 6});
      out.text({Sheet::kMarginPx + kIndentPx, sheet_.y() + 10}, words(key),
               {{"fill", kInk}, {"font-size", "12"}});
      sheet_.skip(20);
    };
    entry("picture.equal", [&](Point2 place) {
      draw_equal_line(out, place - Point2{16, 0}, place + Point2{16, 0});
    });
    if (!report_.readings.empty()) {
      entry("picture.interval", [&](Point2 place) {
        draw_interval(out, place + Point2{0, 8}, place - Point2{0, 8});
      });
    }
    const auto signed_entry = [&](const char* key, ReadingKind kind, bool outlier) {
      entry(key, [&](Point2 place) { draw_sign(out, place, kind, outlier); });
    };
    const auto plain = [](ReadingKind kind) {
      return [kind](const CalibratedReading& found) { return !is_outlier(found) && found.kind == kind; };
    };
    if (any(plain(ReadingKind::exact))) signed_entry("picture.value", ReadingKind::exact, false);
    if (any(plain(ReadingKind::at_most))) signed_entry("picture.at_most", ReadingKind::at_most, false);
    if (any(plain(ReadingKind::at_least))) signed_entry("picture.at_least", ReadingKind::at_least, false);
    if (any(is_outlier)) signed_entry("picture.outlier", ReadingKind::exact, true);
  }

  void list_outliers() {
    std::size_t number = 0;
    for (const CalibratedReading& found : report_.readings) {
      if (!is_outlier(found)) continue;
      if (++number > kMostListed) continue;
      const double off = found.residual_db();
      sheet_.write(wording_.say(off < 0 ? "calibrate.picture.low" : "calibrate.picture.high",
                                {{"number", std::to_string(number)},
                                 {"row", row_words(wording_, jobs_, found)},
                                 {"by", wording_.decibels(std::abs(off))}}),
                   kNote, kIndentPx);
    }
    if (number > kMostListed)
      sheet_.write(wording_.counted("calibrate.picture.more", number - kMostListed), kNote, kIndentPx);
  }

  Wording wording_;
  const std::vector<CalibrationJob>& jobs_;
  const CalibrationReport& report_;
  double least_ = 0;
  double most_ = 0;
  double step_db_ = 10;
  double top_ = 0;
  Sheet sheet_;
};

}  // namespace

std::string calibration_svg(const Language& language, const std::vector<CalibrationJob>& jobs,
                            const CalibrationReport& report) {
  return CalibrationSheet(language, jobs, report).draw();
}

}  // namespace linkmargin
