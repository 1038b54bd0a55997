// SPDX-License-Identifier: MIT
#include "app/panels/run_figures.h"

#include "app/panels/quantity_field.h"
#include "core/run/fit.h"
#include "core/run/sentences.h"

#include <QFileDialog>
#include <QGridLayout>
#include <QHBoxLayout>
#include <QPushButton>
#include <QTimer>

#include <cmath>

namespace touchmark::panels {
namespace {

constexpr double most_units = 1e9, most_money = 1e6, rarest = 1e12;

QuantityField* field(const QString& name, const QuantityField::Options& options, QWidget* parent) {
    auto* made = new QuantityField(options, parent);
    made->setAccessibleName(name);
    return made;
}

QString per(std::string_view unit) {
    if (unit == "1/mm") return QObject::tr("mm");
    if (unit == "1/m") return QObject::tr("m");
    return {};
}

} // namespace

RunFiguresCard::RunFiguresCard(std::filesystem::path planning, const RunFigures& figures, QWidget* parent)
    : Card(parent), planning_(std::move(planning)) {
    setAccessibleName(tr("Figures of the run"));
    setFocusPolicy(Qt::NoFocus);
    auto* layout = new QGridLayout(this);
    layout->setContentsMargins(card_inset, card_inset, card_inset, card_inset);
    layout->setHorizontalSpacing(grid);
    layout->setVerticalSpacing(grid / 2);
    layout->setColumnStretch(0, 1);
    build_run(*layout);
    build_rates(*layout);
    units_->set_value(static_cast<double>(figures.units));
    unit_cost_->set_value(figures.unit_cost);
    machine_hour_->set_value(figures.machine_hour);
    if (auto rates = run::load_rates(planning_)) take(*std::move(rates));
    if (!figures.rates_file.isEmpty()) QTimer::singleShot(0, this, [this, file = figures.rates_file] { load(file); });
}

void RunFiguresCard::build_run(QGridLayout& layout) {
    auto* heading = new QLabel(tr("The run"), this);
    heading->setFont(strong_font(*heading));
    layout.addWidget(heading, layout.rowCount(), 0, 1, 2);
    const auto row = [&](const QString& name, const QString& help, QuantityField* made) {
        auto* label = new QLabel(name, this);
        label->setBuddy(made);
        made->setToolTip(help);
        made->setFixedWidth(128);
        const int at = layout.rowCount();
        layout.addWidget(label, at, 0);
        layout.addWidget(made, at, 1);
        connect(made, &QuantityField::changed_to, this, [this] {
            rates_.costs.unit = unit_cost_->value() > 0 ? std::optional(unit_cost_->value()) : std::nullopt;
            rates_.costs.machine_hour =
                machine_hour_->value() > 0 ? std::optional(machine_hour_->value()) : std::nullopt;
            emit changed();
        });
        return made;
    };
    const auto money = [&](const QString& name) {
        return field(name,
                     {.measure = Measure::plain,
                      .unit = {},
                      .least = 0,
                      .most = most_money,
                      .step = 0.1,
                      .zero = tr("not given")},
                     this);
    };
    units_ =
        row(tr("Units"), tr("How many parts the run has"),
            field(tr("Units of the run"),
                  {.measure = Measure::plain, .unit = {}, .least = 1, .most = most_units, .step = 100, .whole = true},
                  this));
    unit_cost_ = row(tr("A rejected unit costs"), tr("All that is lost with it: material, machine, work"),
                     money(tr("Cost of a rejected unit")));
    machine_hour_ =
        row(tr("A printer's hour costs"), tr("For the time that the marks take longer"), money(tr("Cost of an hour")));
}

void RunFiguresCard::build_rates(QGridLayout& layout) {
    title_ = new QLabel(this);
    title_->setFont(strong_font(*title_));
    title_->setContentsMargins(0, grid, 0, 0);
    layout.addWidget(title_, layout.rowCount(), 0, 1, 2);
    grounds_ = wrapping_label(this);
    layout.addWidget(grounds_, layout.rowCount(), 0, 1, 2);
    layout.addWidget(build_buttons(), layout.rowCount(), 0, 1, 2);
    for (const run::EventKind& kind : run::event_kinds()) {
        const QString name = text(kind.title), unit = per(kind.unit);
        auto* label =
            new QLabel(unit.isEmpty() ? tr("%1: 1 in").arg(name) : tr("%1, per %2: 1 in").arg(name, unit), this);
        auto* one_in = field(tr("%1: one unit spoilt in so many").arg(name),
                             {.measure = Measure::plain,
                              .unit = {},
                              .least = 0,
                              .most = rarest,
                              .step = 1000,
                              .zero = tr("never"),
                              .whole = true},
                             this);
        one_in->setFixedWidth(128);
        auto* source = new ElidedLabel(this);
        make_quiet(*source);
        const int at = layout.rowCount();
        layout.addWidget(label, at, 0);
        layout.addWidget(one_in, at, 1);
        layout.addWidget(source, at + 1, 0, 1, 2);
        connect(one_in, &QuantityField::changed_to, this,
                [this, event = kind.event](double value) { type_rate(event, value); });
        one_in_[index_of(kind.event)] = one_in;
        sources_[index_of(kind.event)] = source;
    }
}

QWidget* RunFiguresCard::build_buttons() {
    auto* row = new QWidget(this);
    auto* buttons = new QHBoxLayout(row);
    buttons->setContentsMargins(0, grid / 2, 0, grid / 2);
    buttons->setSpacing(grid);
    const auto button = [&](const QString& title, const QString& help, auto&& use) {
        auto* made = new QPushButton(title, row);
        made->setAutoDefault(false);
        made->setToolTip(help);
        connect(made, &QPushButton::clicked, this, use);
        buttons->addWidget(made);
    };
    button(tr("Fit to counts …"), tr("A CSV file of what the shop has printed and rejected"), [this] {
        ask_file(tr("Choose the counts"), tr("Tables (*.csv *.txt *.tsv);;All files (*)"), &RunFiguresCard::fit);
    });
    button(tr("Load …"), tr("Rates that were saved before"), [this] {
        ask_file(tr("Choose the rates"), tr("Event rates (*.json);;All files (*)"), &RunFiguresCard::load);
    });
    button(tr("Save …"), tr("Keeps these rates in a file"), [this] { save(); });
    buttons->addStretch();
    return row;
}

std::int64_t RunFiguresCard::units() const {
    return static_cast<std::int64_t>(std::llround(units_->value()));
}

RunFigures RunFiguresCard::figures() const {
    return {units(), unit_cost_->value(), machine_hour_->value(), file_};
}

void RunFiguresCard::ask_file(const QString& title, const QString& kinds, void (RunFiguresCard::*use)(const QString&)) {
    const QString file = QFileDialog::getOpenFileName(this, title, file_, kinds);
    if (!file.isEmpty()) (this->*use)(file);
}

void RunFiguresCard::load(const QString& file) {
    auto rates = run::load_rates(file.toStdString());
    if (!rates) {
        emit failed(rates.error());
        return;
    }
    file_ = file;
    if (rates->costs.unit) unit_cost_->set_value(*rates->costs.unit);
    if (rates->costs.machine_hour) machine_hour_->set_value(*rates->costs.machine_hour);
    take(*std::move(rates));
}

void RunFiguresCard::fit(const QString& counts_file) {
    const auto table = content::Table::read_file(counts_file.toStdString());
    const auto counts =
        table ? run::read_counts(**table, events_of_mark_) : Result<run::Counts>(std::unexpected(table.error()));
    auto rates = counts ? run::fitted(rates_, *counts) : Result<run::Rates>(std::unexpected(counts.error()));
    if (!rates) {
        emit failed(rates.error());
        return;
    }
    take(*std::move(rates));
    QStringList ignored;
    for (const std::string& column : counts->ignored)
        ignored += text(column);
    emit told(
        ignored.isEmpty()
            ? tr("The rates are fitted to the counts. Save them to keep them.")
            : tr("The rates are fitted to the counts. Columns not used: %1.").arg(ignored.join(QStringLiteral(", "))));
}

void RunFiguresCard::save() {
    const QString file = QFileDialog::getSaveFileName(this, tr("Save the rates"), file_, tr("Event rates (*.json)"));
    if (file.isEmpty()) return;
    if (const Status saved = run::save_rates(rates_, file.toStdString()); !saved) {
        emit failed(saved.error());
        return;
    }
    file_ = file;
    emit changed();
}

void RunFiguresCard::take(run::Rates rates) {
    rates_ = std::move(rates);
    rates_.costs.unit = unit_cost_->value() > 0 ? std::optional(unit_cost_->value()) : std::nullopt;
    rates_.costs.machine_hour = machine_hour_->value() > 0 ? std::optional(machine_hour_->value()) : std::nullopt;
    show_rates();
    emit changed();
}

void RunFiguresCard::type_rate(run::Event event, double one_in) {
    run::Rate& rate = rates_[event];
    rate = {{one_in >= 1 ? 1 / one_in : 0, "typed in", true}, std::nullopt};
    if (std::ranges::none_of(rates_.rates, [](const run::Rate& one) { return one.interval.has_value(); }))
        rates_.fit = run::Fit::none;
    show_rates();
    emit changed();
}

void RunFiguresCard::show_rates() {
    title_->setText(text(rates_.title));
    const auto assumed =
        std::ranges::count_if(rates_.rates, [](const run::Rate& rate) { return !rate.interval.has_value(); });
    grounds_->setText(
        assumed == 0 ? tr("Counted by the shop: how many units one event spoils.")
        : assumed == static_cast<qsizetype>(run::event_count)
            ? tr("Planning figures: nobody has counted them. Good for comparing; for a quotation fit them "
                 "to what your shop has counted.")
            : tr("In part planning figures that nobody has counted."));
    for (const run::EventKind& kind : run::event_kinds()) {
        const run::Rate& rate = rates_[kind.event];
        const double chance = rate.chance.value;
        one_in_[index_of(kind.event)]->set_value(chance > 0 ? std::round(1 / chance) : 0);
        QString source = text(rate.chance.source);
        if (rate.interval) {
            const double low = rate.interval->low, high = rate.interval->high;
            source += low > 0 ? tr("; between 1 in %1 and 1 in %2 (95 %)")
                                    .arg(text(run::count_text(1 / high)), text(run::count_text(1 / low)))
                              : tr("; no more than 1 in %1 (95 %)").arg(text(run::count_text(1 / high)));
        }
        sources_[index_of(kind.event)]->set_text(source);
    }
}

} // namespace touchmark::panels
