// SPDX-License-Identifier: MIT
#pragma once

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
    MarkValues(session::Session& session, QString mark, QWidget* parent = nullptr);
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
    void show_code(const job::Mark& mark);
    /// What a text with variables says on the first part, or what is wrong with it.
    [[nodiscard]] std::optional<QString> said_with_variables(const job::Mark& mark) const;
    void set(const Row& row, const job::Value& value);
    [[nodiscard]] const job::Mark* mark() const;

    session::Session& session_;
    QString mark_;
    QPlainTextEdit* text_ = nullptr;
    QLabel* code_ = nullptr; ///< the size of the code, or why the message makes none
    std::function<void()> show_name_;
    std::vector<std::unique_ptr<Row>> rows_;
};

} // namespace touchmark::panels
