// SPDX-License-Identifier: MIT
#pragma once

#include "app/panels/run_figures.h"
#include "app/panels/run_reckoner.h"

#include <QDialog>

class QProgressBar;

namespace touchmark::panels {

class AlternativeCard;
class RunMarkCard;

/// "Over the run": what the job's marks cost over so many units, on what figures that stands, and what else a mark
/// could be. Stays open beside the window.
class RunDialog : public QDialog {
    Q_OBJECT

public:
    RunDialog(session::Session& session, std::filesystem::path planning, const RunFigures& figures, QWidget* parent);
    [[nodiscard]] RunFigures figures() const { return card_->figures(); }
    [[nodiscard]] RunReckoner& reckoner() { return *reckoner_; }
    [[nodiscard]] RunFiguresCard& figures_card() { return *card_; }

signals:
    void figures_changed();

protected:
    void showEvent(QShowEvent* event) override;
    void hideEvent(QHideEvent* event) override;

private:
    void build();
    void refresh();
    void refresh_marks();
    void refresh_alternatives();
    RunMarkCard* mark_card(std::size_t at);
    AlternativeCard* alternative_card(std::size_t at);
    void say(const QString& message);

    session::Session& session_;
    RunReckoner* reckoner_;
    RunFiguresCard* card_;
    CardColumn *left_, *right_;
    QLabel *message_, *grounds_, *heading_;
    QWidget* compared_head_;
    QProgressBar* progress_;
    bool asked_ = false; ///< for what is compared: brought into view when it is there
    std::vector<RunMarkCard*> marks_;
    std::vector<AlternativeCard*> alternatives_;
};

} // namespace touchmark::panels
