// SPDX-License-Identifier: MIT
#pragma once

#include "app/panels/look.h"
#include "app/session/session.h"

class QPushButton;

namespace touchmark::panels {

class VariableRow;

/// What {name} stands for in the texts of the marks: each variable with its value on the first part, the table that
/// columns come from, and a menu of new ones.
class VariablesCard : public Card {
    Q_OBJECT

public:
    explicit VariablesCard(session::Session& session, QWidget* parent = nullptr);
    void refresh();
    void add(std::string_view kind);

signals:
    void grown(); ///< a new one unfolded
    void wanted(const QString& placeholder);
    void failed(const touchmark::Error& error);

private:
    void build_table(QVBoxLayout& layout);
    void rebuild();
    void choose_table();

    session::Session& session_;
    QLabel* explained_;
    ElidedLabel* table_name_;
    QWidget* table_row_;
    QPushButton* choose_;
    QVBoxLayout* list_;
    std::vector<VariableRow*> rows_;
    std::vector<std::size_t> kinds_; ///< of the rows, so that only another list is built anew
};

} // namespace touchmark::panels
