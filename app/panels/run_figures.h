// SPDX-License-Identifier: MIT
#pragma once

#include "app/panels/look.h"
#include "app/panels/run_values.h"
#include "core/run/counts.h"
#include "core/run/rates.h"

#include <array>

class QGridLayout;

namespace touchmark::panels {

class QuantityField;

/// The run's own figures: units, costs, and the event rates with where each comes from. Rates can be typed in, loaded,
/// saved, and fitted to a table of counts.
class RunFiguresCard : public Card {
    Q_OBJECT

public:
    /// `planning`: the rates that come along. Rates that cannot be read are the planning figures, and failed() says so
    /// once the event loop runs.
    RunFiguresCard(std::filesystem::path planning, const RunFigures& figures, QWidget* parent = nullptr);

    [[nodiscard]] RunFigures figures() const;
    [[nodiscard]] const run::Rates& rates() const { return rates_; }
    [[nodiscard]] std::int64_t units() const;
    /// For counts that go by marks' names.
    void set_events_of_mark(run::EventsOfMark events) { events_of_mark_ = std::move(events); }
    void load(const QString& file);
    void fit(const QString& counts_file);

signals:
    void changed();
    void failed(const touchmark::Error& error);
    void told(const QString& message);

private:
    void build_run(QGridLayout& layout);
    void build_rates(QGridLayout& layout);
    [[nodiscard]] QWidget* build_buttons();
    void ask_file(const QString& title, const QString& kinds, void (RunFiguresCard::*use)(const QString&));
    void save();
    void take(run::Rates rates);
    void show_rates();
    void type_rate(run::Event event, double one_in);

    std::filesystem::path planning_;
    QString file_;
    run::Rates rates_;
    run::EventsOfMark events_of_mark_;
    QuantityField *units_ = nullptr, *unit_cost_ = nullptr, *machine_hour_ = nullptr;
    QLabel *title_ = nullptr, *grounds_ = nullptr;
    run::ByEvent<QuantityField*> one_in_{};
    run::ByEvent<ElidedLabel*> sources_{};
};

} // namespace touchmark::panels
