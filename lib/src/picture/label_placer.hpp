// Finds room for words in a picture.
#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

#include "twoturn/picture/scene.hpp"

namespace twoturn {

/// Lines of text that stand over each other.
struct Words {
  struct Line {
    std::string text;
    scene::Weight weight = scene::Weight::plain;
  };
  std::vector<Line> lines;
  double height_mm = scene::kLeastTextMm;
  bool ringed = false;  ///< a number in a ring, as on the plates of a book

  Vec2 size_mm() const;
  /// As labels, centred on a place; a ring first.
  std::vector<scene::Item> around(const Vec2& middle_mm) const;
};

/// What the words are about: a disc that they may stand in or beside.
struct Wanted {
  Words words;
  Vec2 anchor_mm = Vec2::Zero();
  double radius_mm = 0.0;             ///< words stand clear of this much round the anchor
  std::vector<Vec2> rather_at_mm{};   ///< places for their middle: the first free one is taken
  std::optional<Angle> rather_along;  ///< the direction to look in first
  /// The words name the disc at the anchor: nearer to another disc they need a line to it.
  bool names_disc = false;
  /// Words that could be taken for another part's further away than this, or over another: rather
  /// none.
  double most_away_mm = 1e6;
};

/// Words never meet other words or leave the paper; lines are kept clear where that is possible.
class LabelPlacer {
 public:
  explicit LabelPlacer(const scene::Box& paper) : papers_{paper} {}
  /// Several sheets: words keep to one of them.
  explicit LabelPlacer(std::vector<scene::Box> papers) : papers_(std::move(papers)) {}

  void keep_clear(const scene::Box& box) { taken_.push_back(box); }
  /// A line of the picture, which words rather not cross.
  void line(const Vec2& from, const Vec2& to);
  void circle(const Vec2& centre, double radius_mm);
  /// A part that words about anything else had better not stand on.
  void disc(const Vec2& centre, double radius_mm);

  /// All the words as labels, each with a line to its anchor where it stands away from it. Each is
  /// given the best room in turn, and then again while the others keep theirs. Words for which no
  /// room is left at all are left out.
  std::vector<scene::Item> place(const std::vector<Wanted>& all);

  /// Whether all words that name a disc were placed, each so that no one takes it for another's:
  /// in its own disc, clearly nearer to it than to any other, or with a line to it.
  bool all_named(const std::vector<Wanted>& all) const;

 private:
  struct Placed {
    Vec2 middle_mm = Vec2::Zero();
    scene::Box box;
    bool leads = false;  ///< a line goes to the anchor
    Vec2 from_mm = Vec2::Zero();
    Vec2 to_mm = Vec2::Zero();
  };
  std::optional<Placed> best_place(const Wanted& wanted) const;
  Placed placed_at(const Vec2& middle, const scene::Box& box, const Wanted& wanted) const;
  std::ptrdiff_t points_in(const scene::Box& box) const;  ///< needs points_ sorted by y
  double cost(const Placed& here, const Wanted& wanted) const;
  bool may_be_taken_for_another(const scene::Box& box, const Wanted& wanted) const;
  bool crosses_another(const Placed& placed, const Wanted& wanted) const;
  bool is_free(const scene::Box& box) const;

  std::vector<scene::Box> papers_;
  std::vector<scene::Box> taken_;
  std::vector<Vec2> points_;
  struct Disc {
    Vec2 centre_mm;
    double radius_mm;
  };
  std::vector<Disc> discs_;
  std::vector<std::optional<Placed>> words_;  ///< as placed so far
};

/// Text in lines no wider than `width_mm`; words that are wider themselves are broken.
std::vector<std::string> lines_within(const std::string& text, double width_mm, double height_mm,
                                      scene::Weight weight = scene::Weight::plain);

}  // namespace twoturn
