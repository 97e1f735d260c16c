#include "linkmargin/base/provenance.hpp"
#include "linkmargin/propagation/path_loss/site_general.hpp"

// ITU-R P.1238. None of the Recommendation's editions could be opened in full; each row says how far it was
// checked.
namespace linkmargin {
namespace {

constexpr std::string_view kEncyclopedia = "an encyclopedia article and copies of it; agrees with memory";

constexpr std::string_view kCoefficientTable = "ITU-R P.1238-11, site-general model, table 2";

constexpr Range stated_ghz(double min_ghz, double max_ghz) {
  return {min_ghz * 1e9, max_ghz * 1e9, "frequency_hz", kCoefficientTable};
}
constexpr Range stated_m(double min_m, double max_m) {
  return {min_m, max_m, "distance_m", kCoefficientTable};
}

constexpr SiteGeneralCoefficients kCoefficients[] = {
    {"office in sight", "office", true, 1.46, 34.62, 2.03, 3.76, stated_ghz(0.3, 83.5), stated_m(2, 27),
     kCoefficientTable, kOneCopy},
    {"office out of sight", "office", false, 2.46, 29.53, 2.38, 5.04, stated_ghz(0.3, 82), stated_m(4, 30),
     kCoefficientTable, kOneCopy},
    {"corridor in sight", "corridor", true, 1.63, 28.12, 2.25, 4.07, stated_ghz(0.3, 83.5), stated_m(2, 160),
     kCoefficientTable, kOneCopy},
    {"corridor out of sight", "corridor", false, 2.77, 29.27, 2.48, 7.63, stated_ghz(0.625, 83.5),
     stated_m(4, 94), kCoefficientTable, kOneCopy},
    {"industrial in sight", "industrial", true, 2.31, 24.52, 2.06, 2.69, stated_ghz(0.625, 70.28),
     stated_m(2, 101), kCoefficientTable, kOneCopyOnly},
    {"industrial out of sight", "industrial", false, 3.79, 21.01, 1.34, 9.05, stated_ghz(0.625, 70.28),
     stated_m(5, 108), kCoefficientTable,
     "one public secondary copy; gamma 1.34 is suspect, an earlier edition is remembered with 2.34 "
     "(0.6 dB apart at 868 MHz, 3.9 dB at 2.44 GHz)"},
};

constexpr PowerLossBand band(std::string_view environment, double min_mhz, double max_mhz,
                             std::string_view verified) {
  return {environment, min_mhz * 1e6, max_mhz * 1e6, verified};
}

constexpr PowerLossCoefficient kPowerLossCoefficients[] = {
    {band("office", 900, 900, kEncyclopedia), 33},
    {band("commercial", 900, 900, kEncyclopedia), 20},
    {band("office", 1200, 1300, kEncyclopedia), 32},
    {band("commercial", 1200, 1300, kEncyclopedia), 22},
    {band("residential", 1800, 2000, kTwoCopies), 28},
    {band("office", 1800, 2000, kTwoCopies), 30},
    {band("commercial", 1800, 2000, kTwoCopies), 22},
    {band("residential", 2400, 2400, kTwoCopies), 28},
    {band("office", 2400, 2400, kOneCopy), 30},
    {band("office", 4000, 4000, kEncyclopedia), 28},
    {band("commercial", 4000, 4000, kEncyclopedia), 22},
    {band("apartment", 5200, 5200, kEncyclopedia), 30},
    {band("house", 5200, 5200, kEncyclopedia), 28},
    {band("office", 5200, 5200, kEncyclopedia), 31},
    {band("office", 5800, 5800, kEncyclopedia), 24},
    {band("office", 60000, 60000, kEncyclopedia), 22},
    {band("commercial", 60000, 60000, kEncyclopedia), 17},
};

constexpr FloorFactor kFloorFactors[] = {
    {band("office", 900, 900, kEncyclopedia), 3, {9, 19, 24}},
    {band("residential", 1800, 2000, kTwoCopies), 0, {4, 8, 12}},  // 4 n
    {band("office", 1800, 2000, kTwoCopies), 0, {15, 19, 23}},     // 15 + 4 (n - 1)
    {band("commercial", 1800, 2000, kTwoCopies), 0, {6, 9, 12}},   // 6 + 3 (n - 1)
    {band("apartment", 2400, 2400, kTwoCopies), 1, {10, 0, 0}},
    {band("house", 2400, 2400, kOneCopy), 1, {5, 0, 0}},
    {band("office", 2400, 2400, kTwoCopies), 1, {14, 0, 0}},
    {band("apartment", 5200, 5200, kFromMemory), 1, {13, 0, 0}},
    {band("house", 5200, 5200, kFromMemory), 1, {7, 0, 0}},
    {band("office", 5200, 5200, kEncyclopedia), 1, {16, 0, 0}},
    {band("office", 5800, 5800, kEncyclopedia), 2, {22, 28, 0}},
};

constexpr PowerLossSigma kPowerLossSigmas[] = {
    {band("residential", 1800, 2000, kFromMemory), 8},
    {band("office", 1800, 2000, kFromMemory), 10},
    {band("commercial", 1800, 2000, kFromMemory), 10},
    {band("office", 5200, 5200, kFromMemory), 12},
};

}  // namespace

std::span<const SiteGeneralCoefficients> site_general_coefficients() {
  return kCoefficients;
}
std::span<const PowerLossCoefficient> power_loss_coefficients() {
  return kPowerLossCoefficients;
}
std::span<const FloorFactor> floor_factors() {
  return kFloorFactors;
}
std::span<const PowerLossSigma> power_loss_sigmas() {
  return kPowerLossSigmas;
}

}  // namespace linkmargin
