// The job card: bolts, trays, and boxes for everything that a job leaves a trace of.
#include <fmt/format.h>

#include <algorithm>

#include "page_files.hpp"
#include "sheet_data.hpp"
#include "twoturn/base/utf8.hpp"
#include "twoturn/drive/choice_words.hpp"
#include "twoturn/page/html_page.hpp"
#include "twoturn/page/job_card.hpp"
#include "twoturn/picture/bolts_picture.hpp"
#include "twoturn/picture/svg.hpp"
#include "words/keep_units.hpp"
#include "words/sentences.hpp"

namespace twoturn {

using html::Data;
using html::List;
using html::Object;
using sheet::put_text;

namespace {

std::string said(const std::string& text) { return sentences::keep_units(printable(text)); }

std::string heading_of(const BoltGroup& group) {
  std::string text = said(capital(group.name));
  if (group.condition) text += fmt::format(", {}", word(*group.condition));
  if (group.threads) text += fmt::format(", threads {}", word(*group.threads));
  if (group.order == BoltOrder::usual) text += "; order as usual, proposed";
  if (group.order_to_find()) text += "; numbers as in the manual";
  return text;
}

// One table of so many bolts: each stage a row, each bolt a box.
Data table_of(const BoltGroup& group, std::size_t from, std::size_t to) {
  List numbers;
  for (std::size_t k = from; k < to; ++k) {
    numbers.push_back(Data(Object{{"number", Data(std::to_string(group.bolts[k].number))}}));
  }
  List stages;
  for (const BoltStage& stage : group.stages) {
    List boxes;
    for (std::size_t k = from; k < to; ++k) {
      boxes.push_back(
          Data(Object{{"label", Data(fmt::format("{}, stage {}, bolt {}", said(group.name),
                                                 stage.stage, group.bolts[k].number))}}));
    }
    stages.push_back(Data(Object{{"stage", Data(std::to_string(stage.stage))},
                                 {"move", Data(said(stage.move))},
                                 {"boxes", Data(boxes)}}));
  }
  return Data(Object{{"bolts", Data(numbers)}, {"stages", Data(stages)}});
}

Data groups_of(const SheetAnswer& sheet) {
  constexpr std::size_t kAcross = 14;
  const Vec2 room(150.0, 60.0);
  List list;
  int number = 0;
  for (const BoltGroup& group : sheet.job_card.bolts) {
    List tables;
    for (std::size_t from = 0; from < group.bolts.size() && !group.stages.empty();
         from += kAcross) {
      tables.push_back(table_of(group, from, std::min(from + kAcross, group.bolts.size())));
    }
    std::vector<std::string> notes;
    for (const std::string& note : group.notes) notes.push_back(said(note));
    Object one{{"name", Data(said(group.name))},
               {"heading", Data(heading_of(group))},
               {"tables", Data(tables)},
               {"notes", sheet::texts(notes)}};
    one["any_notes"] = notes.empty() ? Data::type::bool_false : Data::type::bool_true;
    put_text(
        one, "view",
        group.placed() ? svg_of(bolts_scene(group, room), fmt::format("bolts{}-", ++number)) : "");
    list.push_back(Data(one));
  }
  return Data(list);
}

Data trays_of(const SheetAnswer& sheet) {
  List list;
  for (const CardTray& tray : sheet.job_card.trays) {
    List rows;
    for (int row = 0; row < tray.rows; ++row) {
      List parts;
      for (int column = 0; column < tray.columns; ++column) {
        const int number = row * tray.columns + column + 1;
        parts.push_back(
            Data(Object{{"number", Data(std::to_string(number))},
                        {"label", Data(fmt::format("{} {} back", said(tray.name), number))}}));
      }
      rows.push_back(Data(Object{{"parts", Data(parts)}}));
    }
    list.push_back(Data(
        Object{{"name", Data(said(tray.name))},
               {"heading", Data(fmt::format("{}: each back where it came from, number 1 at the "
                                            "belt end",
                                            said(capital(tray.name))))},
               {"rows", Data(rows)}}));
  }
  return Data(list);
}

}  // namespace

std::string sheet::job_card_section(const SheetAnswer& sheet, JobCardAs as) {
  Object page{{"profile", Data(sheet.heading.profile)},
              {"fingerprint", Data(sheet.job_card.fingerprint)},
              {"groups", groups_of(sheet)},
              {"trays", trays_of(sheet)},
              {"steps", steps(sheet.job_card_steps, 0, sheet.job_card_steps.size())},
              {"cautions", texts(sheet.cautions)}};
  put_text(page, "shout", sheet.shout);
  put_text(page, "must_do", sheet.must_do);
  const bool alone = as == JobCardAs::alone;
  page["alone"] = alone ? Data::type::bool_true : Data::type::bool_false;
  page["any_cautions"] = alone ? Data::type::bool_true : Data::type::bool_false;
  return html::filled(files::kJobCardHtml, Data(page));
}

std::string job_card_html(const SheetAnswer& sheet) {
  return html_page({"Job card: " + sheet.heading.profile, sheet::css(),
                    "<main class=\"sheet\">\n" +
                        sheet::job_card_section(sheet, sheet::JobCardAs::alone) + "</main>\n"});
}

}  // namespace twoturn
