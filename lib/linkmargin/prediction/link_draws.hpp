#pragma once

#include "linkmargin/base/random.hpp"
#include "linkmargin/prediction/serving/device_link.hpp"
#include "linkmargin/site/site.hpp"

#include <cstddef>
#include <cstdint>
#include <span>
#include <string>
#include <vector>

namespace linkmargin {

/// What is not known of a site's links and is drawn.
enum class DrawnKind {
  element,    ///< a wall, slab, leaf or obstacle off its material's figure: alike for all links through it
  model,      ///< what the model does not know, the echoes' strength in it: alike for near links
  parameter,  ///< what readings left open of the calibrated parameters, and of learned tables
  spot        ///< fading: where in the room's field of waves a device hangs by a few centimetres
};

/// Draws of how far the levels of a site's links lie off their predictions, all links together. Each link by
/// itself is distributed as FadingModel takes it: the local mean normally by Link::sigma_db, Rician fading on
/// top, so that the share of draws that reach a threshold tends to Link::pass_probability. What two links
/// have in common they share in every draw: the walls that both pass, what the calibration left open, and by
/// shadowing_correlation() what the model does not know.
///
/// A draw is a pure function of the seed, of its number and of the names of what is drawn, so that a wall or
/// spot draws the same in two variants of a site. Read-only after construction; safe to share between
/// threads.
class LinkDraws {
 public:
  /// One number that is drawn.
  struct Cause {
    DrawnKind kind = DrawnKind::element;
    PartName part{};  ///< of an element
  };

  /// @param links  of the site, one a hop (of Link::onward nothing is drawn), without ShadowingRegression.
  /// The time for all goes with the square of their count, with the cube for the first draw.
  LinkDraws(const Site& site, std::span<const Link> links, std::uint64_t seed);

  std::size_t size() const { return spots_.size(); }  ///< links

  /// By how many decibels each link's level, in both directions, lies off its prediction in a draw.
  /// @param shifts_db  size() numbers
  void draw(std::uint64_t number, std::span<double> shifts_db) const;

  /// The same of one cause alone at so many of its deviations; all else as predicted.
  void set_apart(std::size_t cause, double deviations, std::span<double> shifts_db) const;

  /// The same of one kind alone in a draw.
  void draw_alone(DrawnKind kind, std::uint64_t number, std::span<double> shifts_db) const;

  const std::vector<Cause>& causes() const { return causes_; }  ///< but for the spots, which are the links'

 private:
  struct Effect {
    std::size_t link;
    double db;  ///< a deviation
  };
  struct Spot {
    RandomStream stream;
    double k_ratio;
  };

  void add_cause(Cause cause, const std::string& stream, std::vector<Effect> effects);
  void add_elements(std::span<const Link> links);
  void add_model(std::span<const Link> links);
  void add_parameters(const Site& site, std::span<const Link> links);
  void add(std::size_t cause, double deviations, std::span<double> shifts_db) const;
  void add_fades(std::uint64_t number, std::span<double> shifts_db) const;

  std::string site_;
  std::uint64_t seed_;
  std::vector<Cause> causes_;
  std::vector<RandomStream> streams_;       // one a cause
  std::vector<std::size_t> first_effects_;  // one a cause, and the end
  std::vector<Effect> effects_;
  bool fades_;
  std::vector<Spot> spots_;
};

}  // namespace linkmargin
