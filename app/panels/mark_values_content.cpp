// SPDX-License-Identifier: MIT
#include "app/panels/axes_field.h"
#include "app/panels/look.h"
#include "app/panels/mark_values.h"
#include "core/base/number_text.h"
#include "core/content/code.h"

#include <algorithm>

/// Of MarkValues what knows about lettering and codes.
namespace touchmark::panels {

QWidget* MarkValues::make_family(Row& row) {
    auto* box = new FamilyBox(session_.fonts()->families(), &survey_, this);
    row.show = [this, box](const job::Value& value) {
        box->set_demand(demand_of(*mark()));
        box->set_family(text(std::get<std::string>(value)));
    };
    connect(box, &FamilyBox::chosen, this, [this, &row](const QString& family) { set(row, family.toStdString()); });
    return box;
}

/// The weight stands among the axes, although it is a value of its own.
QWidget* MarkValues::make_axes(Row& row) {
    auto* field = new AxesField(this);
    const auto settings = [this] {
        const auto& text = std::get<content::Text>(mark()->content);
        auto set = content::axis_settings(text.axes).value_or(std::vector<content::AxisSetting>{});
        set.push_back({"wght", static_cast<double>(text.weight)});
        return set;
    };
    row.show = [this, field, settings](const job::Value&) {
        field->show(session_.fonts()->axes(std::get<content::Text>(mark()->content).family), settings());
    };
    connect(field, &AxesField::trouble, this, [this, &row](const QString& message) { refuse(row, message); });
    connect(field, &AxesField::changed_to, this, [this, &row, settings](const QString& tag, double value) {
        std::vector<content::AxisSetting> now = settings();
        std::erase_if(now, [&](const content::AxisSetting& one) { return one.tag == tag.toStdString(); });
        now.push_back({tag.toStdString(), value});
        set(row, content::text_of(now));
    });
    return field;
}

/// What the message becomes, as it is typed.
Error MarkValues::show_code(const job::Mark& mark) {
    const auto* code = std::get_if<content::Code>(&mark.content);
    const auto symbol = code ? content::encode(*code) : std::unexpected(Error{});
    code_->setVisible(symbol.has_value());
    if (!symbol) return symbol.error();
    const content::SymbologyRow& row = content::row_of(code->symbology);
    const double module = code->module.value;
    const int columns = symbol->modules.columns, rows = symbol->modules.rows;
    const double across = (columns + 2 * row.quiet_modules) * module;
    const double along = row.linear ? code->bar_height.value : (rows + 2 * row.quiet_modules) * module;
    const auto figure = [](double mm) { return text(number_text(std::round(mm * 10) / 10)); };
    QStringList said;
    if (symbol->version.starts_with("Version")) said << text(symbol->version);
    said << (row.linear ? tr("%1 modules").arg(columns) : tr("%1 × %2 modules").arg(rows).arg(columns));
    said << tr("%1 × %2 mm with its margin").arg(figure(across), figure(along));
    if (symbol->capacity)
        said << tr("%1 of %2 %3")
                    .arg(symbol->capacity->used)
                    .arg(symbol->capacity->most)
                    .arg(text(symbol->capacity->unit));
    for (QString& one : said)
        one.replace(u' ', QChar::Nbsp); // breaks between them, not within
    code_->setText(said.join(QStringLiteral(" · ")));
    return {};
}

Error MarkValues::trouble_of(const job::Mark& mark) const {
    const auto evaluation = session_.evaluation();
    if (!evaluation || !session_.evaluation_is_current()) return {};
    const auto found = std::ranges::find(evaluation->marks, mark.id, &pipeline::MarkEvaluation::mark);
    return found != evaluation->marks.end() ? found->trouble.value_or(Error{}) : Error{};
}

void MarkValues::show_fit(const job::Mark& mark) {
    const auto* words = std::get_if<content::Text>(&mark.content);
    const auto evaluation = session_.evaluation();
    QString said;
    if (words && words->fit_width.value > 0 && evaluation) {
        const auto found = std::ranges::find(evaluation->marks, mark.id, &pipeline::MarkEvaluation::mark);
        if (found != evaluation->marks.end() && found->drawn)
            said = words->fit == content::FitBy::size
                       ? tr("Cap height %1").arg(text(text_of(found->drawn->cap_height)))
                       : tr("Letter spacing %1").arg(text(text_of(found->drawn->letter_spacing)));
    }
    fit_->setText(said);
    fit_->setVisible(!said.isEmpty());
}

/// By the process, for the mode and the place that the mark has now.
FaceDemand MarkValues::demand_of(const job::Mark& mark) const {
    FaceDemand demand;
    Zone zone = Zone::side_wall;
    const auto* words = std::get_if<content::Text>(&mark.content);
    if (words) demand.cap_height_mm = words->cap_height.value, demand.weight = words->weight;
    if (const auto evaluation = session_.evaluation()) {
        const auto found = std::ranges::find(evaluation->marks, mark.id, &pipeline::MarkEvaluation::mark);
        if (found != evaluation->marks.end()) {
            zone = found->zone;
            if (found->drawn && found->drawn->cap_height.value > 0)
                demand.cap_height_mm = found->drawn->cap_height.value;
        }
    }
    if (const process::Limit* stroke = session_.process().limit("stroke_width", mark.mode, zone)) {
        demand.least_stroke_mm = stroke->hard.value;
        demand.clean_stroke_mm = stroke->comfortable.value;
    }
    if (const process::Limit* gap = session_.process().limit("gap_width", mark.mode, zone))
        demand.clean_gap_mm = gap->comfortable.value;
    return demand;
}

} // namespace touchmark::panels
