#include "twoturn/drive/place.hpp"

#include <memory>

#include "commands.hpp"
#include "twoturn/write/document.hpp"
#include "twoturn/write/text.hpp"

namespace twoturn::cli {
namespace {

Output run(const Asked& asked) {
  const DriveSpec spec = read_spec(asked);
  const Heading heading = heading_for(asked, spec, "place");
  const MeasuredPlaces places = spec.places ? *spec.places : places_of(spec);
  const int code = places.placed() ? kDone : kStopOrNone;
  return {asked.json ? place_document(heading, places) : place_text(heading, places), code};
}

}  // namespace

void add_place(Program& program, Job& job) {
  const auto asked = std::make_shared<Asked>();
  program.command("place",
                  "where measured distances put each centre, how well, and which looks wrong",
                  [asked, &job](const Command& command) {
                    add_common(command, *asked, Profile::required, Table::none, Verdict::none);
                    command.when_chosen([asked, &job] { job = [asked] { return run(*asked); }; });
                  });
}

}  // namespace twoturn::cli
