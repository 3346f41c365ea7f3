// The command twoturn: reads the command line, runs one command, prints once and ends.
#include <cerrno>
#include <cstdio>
#include <cstring>
#include <string_view>

#include "commands.hpp"
#include "twoturn/write/document.hpp"
#include "write_file.hpp"

namespace twoturn::cli {
namespace {

// Everything to standard output, or a reason why not.
bool written(const std::string& text) {
  const bool whole = std::fwrite(text.data(), 1, text.size(), stdout) == text.size();
  return whole && std::fflush(stdout) == 0;
}

void complain(const std::string& text) { std::fprintf(stderr, "twoturn: %s\n", text.c_str()); }

int print(const Output& output) {
  errno = 0;
  if (written(output.text)) return output.code;
  complain(std::string("the output could not be written: ") + std::strerror(errno));
  return kNotWritten;
}

enum class Tell { in_words, as_json };

int fail(const Failure& failure, Tell how) {
  if (how == Tell::as_json) return print({error_document(failure), failure.exit_code});
  complain(failure.text);
  for (const Problem& problem : failure.problems) {
    std::fprintf(stderr, "  %s\n", describe(problem).c_str());
  }
  return failure.exit_code;
}

Failure unusable(const InputError& error) {
  const std::size_t count = error.problems().size();
  const std::string text =
      count == 1 ? "the input cannot be used:"
                 : "the input cannot be used, for " + std::to_string(count) + " reasons:";
  return {"input", text, kUnusableInput, error.problems()};
}

Tell asked_for(int argc, char** argv) {
  for (int i = 1; i < argc; ++i) {
    if (std::string_view(argv[i]) == "--json") return Tell::as_json;
  }
  return Tell::in_words;
}

void add_commands(Program& program, Job& job) {
  add_check(program, job);
  add_marks(program, job);
  add_route(program, job);
  add_teeth(program, job);
  add_tensioner(program, job);
  add_place(program, job);
  add_spread(program, job);
  add_turns(program, job);
  add_draw(program, job);
  add_report(program, job);
  add_valves(program, job);
  add_park(program, job);
  add_feel(program, job);
  add_tension(program, job);
  add_bolts(program, job);
  add_face(program, job);
  add_sections(program, job);
  add_starter(program, job);
  add_sheet(program, job);
  add_why(program, job);
  add_exercise(program, job);
  add_list(program, job);
}

int run_program(int argc, char** argv, Tell how) {
  Program program("twoturn",
                  "Proves an engine's timing-belt drive on paper, before anyone turns a key.",
                  std::string("twoturn ") + TWOTURN_VERSION);
  Job job;
  add_commands(program, job);
  const Parsed parsed = program.parse(argc, argv);
  if (parsed.kind == Parsed::Kind::text) return print({parsed.text});
  if (parsed.kind == Parsed::Kind::wrong) {
    return fail({"usage", parsed.text, kWrongUsage, {}}, how);
  }
  try {
    return print(job());
  } catch (const UsageError& error) {
    return fail({"usage", error.what(), kWrongUsage, {}}, how);
  } catch (const InputError& error) {
    return fail(unusable(error), how);
  } catch (const OutputError& error) {
    return fail({"output", error.what(), kNotWritten, {}}, how);
  }
}

}  // namespace
}  // namespace twoturn::cli

int main(int argc, char** argv) {
  using namespace twoturn::cli;
  const Tell how = asked_for(argc, argv);
  try {
    return run_program(argc, argv, how);
  } catch (const std::exception& error) {
    return fail({"fault", std::string("fault of the program: ") + error.what(), kFault, {}}, how);
  } catch (...) {
    return fail({"fault", "fault of the program", kFault, {}}, how);
  }
}
