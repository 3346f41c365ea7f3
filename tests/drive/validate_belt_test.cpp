// Slips of the calliper and of the pen: nine gaps for ten, ten teeth for one, inches for mm.
// Pitches are those of ISO 5296 and ISO 13050 (8, 9.525, 22.225 mm), the rest is arithmetic.
#include "drive/told_once.hpp"

using namespace twoturn;
using namespace validated;

namespace {

using Change = std::function<void(DriveSpec&)>;

Change over_10(const char* section, double mm) {
  return [=](DriveSpec& s) {
    s.belt.section = section;
    s.belt.over_10_teeth_mm = mm;
  };
}

Change bare_over_10(double mm) {
  return [=](DriveSpec& s) {
    s.belt = {};
    s.belt.over_10_teeth_mm = mm;
  };
}

Change pitch(double mm) {
  return [=](DriveSpec& s) {
    s.belt = {};
    s.belt.pitch_mm = mm;
  };
}

Change section_pitch(double mm) {
  return [=](DriveSpec& s) { s.belt.pitch_mm = mm; };
}

Change both(double pitch_mm, double over_10_mm) {
  return [=](DriveSpec& s) {
    s.belt = {};
    s.belt.pitch_mm = pitch_mm;
    s.belt.over_10_teeth_mm = over_10_mm;
  };
}

Change layers(std::optional<double> height, std::optional<double> land,
              std::optional<double> thickness) {
  return [=](DriveSpec& s) {
    s.belt.tooth_height_mm = height;
    s.belt.land_to_pitch_line_mm = land;
    s.belt.thickness_mm = thickness;
  };
}

Change own_layers(std::optional<double> height, std::optional<double> land,
                  std::optional<double> thickness) {
  return [=](DriveSpec& s) {
    s.belt = {};
    layers(height, land, thickness)(s);
  };
}

}  // namespace

TEST_CASE("Over ten teeth a belt measures as its pitch within one in a hundred") {
  const char* key = "belt.over_10_teeth_mm";
  check_all_sound({over_10("ZA", 95.25), over_10("ZA", 96.2), over_10("ZA", 94.3), both(7.3, 73.0),
                   both(7.3, 73.7), bare_over_10(80.0), bare_over_10(73.0)});
  check_told({
      {over_10("ZA", 0.0), key, "must be more than 0"},
      {over_10("ZA", 96.3), key, "gives a pitch of 9.63 mm, but section ZA says 9.525 mm"},
      {over_10("ZA", 94.2), key, "gives a pitch of 9.42 mm, but section ZA says 9.525 mm"},
      {both(7.3, 73.8), key, "gives a pitch of 7.38 mm, but pitch_mm says 7.3 mm"},
      {both(7.3, 80.0), key, "gives a pitch of 8 mm, but pitch_mm says 7.3 mm"},
  });
}

TEST_CASE("Nine gaps taken for ten, and one tooth for ten, are told as that") {
  const char* key = "belt.over_10_teeth_mm";
  check_told({
      {over_10("H8M", 72.0), key, "gives a pitch of 7.2 mm, but over nine gaps it is 8 mm"},
      {over_10("H8M", 8.0), key, "gives a pitch of 0.8 mm, but one tooth of 8 mm"},
      {both(7.3, 65.7), key, "gives a pitch of 6.57 mm, but over nine gaps it is 7.3 mm"},
      {both(7.3, 7.3), key, "gives a pitch of 0.73 mm, but one tooth of 7.3 mm"},
      {bare_over_10(72.0), key, "gives a pitch of 7.2 mm, but over nine gaps it is 8 mm"},
      {bare_over_10(8.0), key, "gives a pitch of 0.8 mm, but one tooth of 8 mm"},
      {bare_over_10(4.9), key, "must be from 5 to 325 mm"},
      {bare_over_10(326.0), key, "must be from 5 to 325 mm"},
  });
  // 20 mm is a pitch of the trade, though over nine gaps it would be the 22.225 of XH.
  check_all_sound({bare_over_10(200.0)});
}

TEST_CASE("A pitch is its section's, or of the trade, or of nobody's, but no ten teeth") {
  const char* key = "belt.pitch_mm";
  check_all_sound({section_pitch(9.5269), section_pitch(9.5231), pitch(9.525), pitch(20.0),
                   pitch(20.15), pitch(22.225), pitch(7.3)});
  check_told({
      {section_pitch(9.5271), key, "section ZA has a pitch of 9.525 mm"},
      {section_pitch(9.5229), key, "section ZA has a pitch of 9.525 mm"},
      {section_pitch(95.25), key, "write over_10_teeth_mm = 95.25"},
      {section_pitch(96.2), key, "over ten teeth it is a pitch of 9.525 mm"},
      {section_pitch(96.3), key, "section ZA has a pitch of 9.525 mm"},
      {section_pitch(0.4), key, "section ZA has a pitch of 9.525 mm"},
      {section_pitch(-1.0), key, "must be more than 0"},
      {section_pitch(kInfinite), key, "must be a finite number"},
      {pitch(80.0), key, "ten teeth taken for one: over ten teeth it is a pitch of 8 mm"},
      {pitch(30.0), key, "over ten teeth it is a pitch of 3 mm"},
      {pitch(33.0), key, "must be 32.5 mm or less"},
  });
}

TEST_CASE("A pitch in inches is told in mm, one that is none is too small") {
  const char* key = "belt.pitch_mm";
  check_told({
      {pitch(0.375), key, "in inches it would be 9.525 mm"},
      {pitch(0.2), key, "in inches it would be 5.08 mm"},
      {pitch(0.3), key, "must be 0.5 mm or more"},
      {pitch(0.0), key, "must be more than 0"},
      {pitch(kInfinite), key, "must be a finite number"},
  });
}

TEST_CASE("Tooth and land leave something of the belt's thickness for its back") {
  check_all_sound({own_layers(2.0, {}, 4.0), own_layers(4.0, {}, {}), own_layers({}, {}, 4.0),
                   own_layers(2.0, 1.0, 3.001), own_layers({}, 1.0, 0.5), own_layers({}, 5.0, {}),
                   layers({}, {}, 3.0), layers({}, 1.0, {})});
  check_told({
      {own_layers(4.0, {}, 4.0), "belt.thickness_mm", "tooth height 4 and land to pitch line 0 mm"},
      {own_layers(2.0, 1.0, 3.0), "belt.thickness_mm",
       "tooth height 2 and land to pitch line 1 mm"},
      {layers({}, 3.0, {}), "belt.land_to_pitch_line_mm", "whole thickness 4.1 mm"},
      {layers({}, {}, 2.0), "belt.thickness_mm", "whole thickness 2 mm"},
      {layers(3.9, 0.5, {}), "belt.tooth_height_mm", "tooth height 3.9 and land to pitch line 0.5"},
      {layers({}, {}, 0.0), "belt.thickness_mm", "must be more than 0"},
      {layers(kInfinite, {}, {}), "belt.tooth_height_mm", "must be a finite number"},
      {layers({}, kInfinite, {}), "belt.land_to_pitch_line_mm", "must be a finite number"},
  });
  DriveSpec spec = sound();
  layers({}, 3.0, {})(spec);
  CHECK(validate(spec)[0].value == "3 mm");
  layers(3.9, 0.5, {})(spec);
  CHECK(validate(spec)[0].value == "3.9 mm");
}

TEST_CASE("An unknown section is told with all that are known, and the one that was meant") {
  check_told({
      {[](DriveSpec& s) { s.belt.section = "za"; }, "belt.section",
       "known are MXL, H3M, H5M, XL, H8M, S8M, YH, YS, L, ZA, ZB, H, H14M, XH, XXH. For", "ZA"},
      {[](DriveSpec& s) { s.belt.section = "H14"; }, "belt.section", "no such", "H14M"},
      {[](DriveSpec& s) {
         s.belt.mass_g_per_m = 60;
         s.belt.weighed_g = 70;
       },
       "belt.weighed_g", "mass_g_per_m says it already"},
  });
}
