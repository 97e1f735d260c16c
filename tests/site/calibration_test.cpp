#include "linkmargin/site/calibration.hpp"

#include "fixtures/sound_site.hpp"

#include <doctest/doctest.h>

#include <algorithm>

using namespace linkmargin;
using site_test::sound_site;

namespace {

Calibration two_walls() {
  Calibration learned;
  learned.offset_db = -3;
  learned.offset_sigma_db = 1.5;
  learned.exponent_sigma = 0.2;
  learned.zero_sigma_db = 2;
  learned.full_sigma_db = 2.5;
  learned.materials = {{"heavy", {2, 1, 5}}, {"brick", {-1, 0.5, 0}}};
  return learned;
}

/// The faults of a sound site with these correlations.
std::string faults_with(std::vector<Calibration::Correlation> correlations) {
  Site site = sound_site();
  site.calibration = two_walls();
  site.calibration->correlations = std::move(correlations);
  std::string text;
  for (const Diagnostic& fault : validate(site)) text += fault.path + " | " + to_text(fault) + "\n";
  return text;
}

}  // namespace

TEST_CASE("the parameters stand in one order, each under its place in the file") {
  Calibration learned = two_walls();
  learned.materials["a/b~c"] = {1, 3, 0};
  const std::vector<LearnedParameter> all = parameters(learned);
  std::vector<std::string> pointers;
  std::vector<double> sigmas;
  for (const LearnedParameter& parameter : all) {
    pointers.push_back(parameter.pointer);
    sigmas.push_back(parameter.sigma);
  }
  CHECK(pointers == std::vector<std::string>{"/calibration/offset_db", "/radio/exponent", "/reading/zero_dbm",
                                             "/reading/full_dbm", "/calibration/materials/a~1b~0c/shift_db",
                                             "/calibration/materials/brick/shift_db",
                                             "/calibration/materials/heavy/shift_db"});
  CHECK(sigmas == std::vector<double>{1.5, 0.2, 2, 2.5, 3, 0.5, 1});
}

TEST_CASE("what a site's own readings taught goes before what its table brings along") {
  Material brick;
  brick.name = "brick";
  CHECK(learned_shift({}, brick) == nullptr);
  CHECK(learned_shift(Calibration{}, brick) == nullptr);
  brick.learned = LearnedShift{4, 2, 0};
  REQUIRE(learned_shift({}, brick) != nullptr);
  CHECK(learned_shift({}, brick)->shift_db == 4);
  const std::optional<Calibration> own = two_walls();
  REQUIRE(learned_shift(own, brick) != nullptr);
  CHECK(learned_shift(own, brick)->shift_db == -1);
  Material other = brick;
  other.name = "other";
  CHECK(learned_shift(own, other)->shift_db == 4);  // the site's readings say nothing of it
}

TEST_CASE("a calibration is sound where its materials and parameters are known") {
  CHECK(faults_with({}) == "");
  CHECK(faults_with({{kOffsetPointer, kExponentPointer, -0.62},
                     {shift_pointer("heavy"), kFullPointer, 0.3},
                     {shift_pointer("heavy"), shift_pointer("brick"), -0.9}}) == "");
  Site site = sound_site();
  site.calibration = two_walls();
  site.calibration->materials["havy"] = {};
  const Diagnostics faults = validate(site);
  REQUIRE(faults.size() == 1);
  CHECK(faults[0].path == "/calibration/materials/havy");
  CHECK(to_text(faults[0]) == "unknown material 'havy' (did you mean 'heavy'?)");
}

TEST_CASE("correlations are told that are of nothing, of one thing, or there twice") {
  CHECK(faults_with({{kOffsetPointer, "/radio/exponents", 0.1}, {"brick", kZeroPointer, 0.1}}) ==
        "/calibration/correlations/0/1 | unknown parameter '/radio/exponents' (did you mean "
        "'/radio/exponent'?)\n"
        "/calibration/correlations/1/0 | unknown parameter 'brick' (a correlation is "
        "[/calibration/offset_db, /radio/exponent, 0.5])\n");
  CHECK(faults_with({{kZeroPointer, kZeroPointer, 0.1},
                     {kOffsetPointer, kZeroPointer, 0.1},
                     {kZeroPointer, kOffsetPointer, 0.1}}) ==
        "/calibration/correlations/0 | a correlation of '/reading/zero_dbm' with itself\n"
        "/calibration/correlations/2 | the correlation of '/reading/zero_dbm' and '/calibration/offset_db' "
        "stands there already\n");
}

TEST_CASE("correlations that contradict each other are told") {
  // Two that go with a third nearly wholly cannot go against each other: the determinant is
  // 1 + 2 r12 r13 r23 - r12^2 - r13^2 - r23^2, which is 0 at r23 = 2 r^2 - 1.
  const auto with = [](double r, double between) {
    return faults_with({{kOffsetPointer, kZeroPointer, r},
                        {kOffsetPointer, kFullPointer, r},
                        {kZeroPointer, kFullPointer, between}});
  };
  const double least = 2 * 0.9 * 0.9 - 1;
  CHECK(with(0.9, least + 0.001) == "");
  CHECK(with(0.9, least - 0.001) ==
        "/calibration/correlations | no parameters can go together like that (the matrix of all "
        "correlations must be positive definite)\n");
  CHECK(faults_with({{kOffsetPointer, kZeroPointer, 0.999999}}) == "");
}
