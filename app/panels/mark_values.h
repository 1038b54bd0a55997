// SPDX-License-Identifier: MIT
#pragma once

#include "app/panels/family_box.h"
#include "app/session/session.h"
#include "core/job/parameter.h"

#include <QWidget>
#include <functional>
#include <vector>

class QGridLayout;
class QLabel;
class QPlainTextEdit;
class QPushButton;

namespace touchmark::panels {

/// Every value of one mark, in place: one row a row of job::parameters().
class MarkValues : public QWidget {
    Q_OBJECT

public:
    MarkValues(session::Session& session, FaceSurvey& survey, QString mark, QWidget* parent = nullptr);
    /// Shows the job's values; what is being typed stays.
    void refresh();
    /// Puts the caret into the text, all of it selected.
    void edit_text();
    /// The same, and replaces it with what was typed elsewhere.
    void type_text(const QString& typed);
    /// Writes it where the caret is.
    void insert_text(const QString& words);

private:
    struct Row {
        const job::Parameter* parameter = nullptr;
        std::function<void(const job::Value&)> show;
        QWidget* editor = nullptr;
        QLabel* title = nullptr;         ///< null where the editor speaks for itself
        QPushButton* standard = nullptr; ///< shown while the value departs from it
        QLabel* trouble = nullptr;
        QString refused; ///< what was wrong with the last edit; else `trouble` tells what the value leads to
    };
    void add_row(const job::Parameter& parameter);
    void add_name(QGridLayout& grid);
    QWidget* make_editor(Row& row);
    QWidget* make_text(Row& row);
    QWidget* make_number(Row& row);
    QWidget* make_choice(Row& row);
    QWidget* make_segments(Row& row);
    QWidget* make_weight(Row& row);
    QWidget* make_family(Row& row);
    QWidget* make_drawing(Row& row);
    QWidget* make_line(Row& row);
    QWidget* make_axes(Row& row);
    /// Why the mark cannot be drawn; empty while it can.
    [[nodiscard]] Error show_code(const job::Mark& mark);
    /// What a text with variables says on the first part; nullopt without variables.
    [[nodiscard]] std::optional<QString> said_with_variables(const job::Mark& mark) const;
    [[nodiscard]] Error trouble_of(const job::Mark& mark) const;
    void show_fit(const job::Mark& mark);
    [[nodiscard]] FaceDemand demand_of(const job::Mark& mark) const;
    void refuse(Row& row, const QString& message);
    void set(Row& row, const job::Value& value);
    [[nodiscard]] const job::Mark* mark() const;

    session::Session& session_;
    FaceSurvey& survey_;
    QString mark_;
    QPlainTextEdit* text_ = nullptr;
    QLabel* code_ = nullptr; ///< the size of the code
    QLabel* fit_ = nullptr;  ///< what fitting to a width came to
    std::function<void()> show_name_;
    std::vector<std::unique_ptr<Row>> rows_;
};

} // namespace touchmark::panels
