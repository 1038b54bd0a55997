// SPDX-License-Identifier: MIT
#pragma once

#include "app/panels/look.h"
#include "app/panels/strip_work.h"
#include "app/session/profile_shelf.h"

#include <QDialog>

class QCheckBox;
class QGridLayout;
class QLineEdit;
class QProgressBar;
class QPushButton;

namespace touchmark::panels {

class Combo;
class IntervalScale;
class StripChart;

/// "Fit to prints": a test strip to be printed, its sheet, what that makes of a profile, and the profile of one's own.
class FitDialog : public QDialog {
    Q_OBJECT

public:
    FitDialog(session::Session& session, session::ProfileShelf& shelf, QWidget* parent);
    [[nodiscard]] StripWork& work() { return *work_; }
    /// What the buttons ask for, once a file is named.
    void save_strip(const QString& file);
    void open_sheet(const QString& file);
    void keep();

signals:
    void use_asked(const std::string& process); ///< for the job

protected:
    void showEvent(QShowEvent* event) override;

private:
    void build();
    [[nodiscard]] Card* strip_card();
    [[nodiscard]] Card* sheet_card();
    [[nodiscard]] Card* own_card();
    [[nodiscard]] Card* figures_card();
    void fill_processes();
    [[nodiscard]] const process::Process* process() const;
    void refresh_work();
    void refresh_found();
    void say(const QString& message);

    struct FigureRow {
        QLabel *title, *change, *grounds;
        IntervalScale* scale;
    };
    session::Session& session_;
    session::ProfileShelf& shelf_;
    StripWork* work_;
    Combo* processes_;
    CardColumn *left_, *right_;
    QPushButton *save_, *open_, *keep_, *use_, *stop_;
    QLineEdit* name_;
    QCheckBox* limits_;
    QLabel *message_, *heading_, *doing_, *chart_head_;
    QWidget* busy_;
    QProgressBar* progress_;
    Card *figures_, *strokes_, *notes_;
    QGridLayout* table_;
    std::vector<FigureRow> rows_;
    StripChart* chart_;
    QLabel* said_;
    std::string kept_;       ///< the profile that was saved last
    QString folder_, named_; ///< where files were last; the name that was proposed
};

} // namespace touchmark::panels
