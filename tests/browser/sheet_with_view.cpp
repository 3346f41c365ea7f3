// The sheet of a profile on standard input with an empty picture of full size in its place, for
// tests of the layout: sheet_with_view <profile >sheet.html
#include <iostream>
#include <iterator>

#include "twoturn/io/profile.hpp"
#include "twoturn/io/sheet.hpp"

int main() {
  using namespace twoturn;
  const std::string text{std::istreambuf_iterator<char>(std::cin), {}};
  const DriveSpec spec = read_profile({"standard input", text, {}});
  Heading heading;
  heading.command = "sheet";
  heading.profile = spec.title;
  std::cout << sheet_html(
      sheet_of(spec, heading),
      R"(<svg xmlns="http://www.w3.org/2000/svg" width="85mm" height="110mm" )"
      R"(viewBox="0 0 85 110" role="img" aria-label="Belt end"><rect width="85" )"
      R"(height="110" fill="none" stroke="black"/></svg>)");
}
