// SPDX-License-Identifier: MIT
#include "app/panels/variables_card.h"

#include "app/panels/variable_row.h"
#include "core/content/variable_kinds.h"
#include "core/job/variables.h"

#include <QFileDialog>
#include <QMenu>
#include <QPushButton>
#include <QVBoxLayout>

namespace touchmark::panels {

VariablesCard::VariablesCard(session::Session& session, QWidget* parent)
    : Card(parent), session_(session), explained_(wrapping_label(this)), table_name_(new ElidedLabel(this)),
      table_row_(new QWidget(this)), choose_(new QPushButton(tr("Table …"), this)), list_(new QVBoxLayout) {
    setAccessibleName(tr("Variables"));
    auto* title = new QLabel(tr("Variables"), this);
    title->setFont(strong_font(*title));
    explained_->setText(tr("Values that stand in a text as {serial}: the same on all parts, or another on each."));
    make_quiet(*explained_);
    list_->setSpacing(0);

    auto* add_button = new QPushButton(tr("Add variable"), this);
    auto* menu = new QMenu(add_button);
    for (const content::VariableKindRow& row : content::variable_kinds()) {
        QAction* action = menu->addAction(text(row.title), this, [this, key = row.key] { add(key); });
        action->setToolTip(text(row.help));
    }
    menu->setToolTipsVisible(true);
    add_button->setMenu(menu);
    choose_->setToolTip(tr("A CSV file with one line a part; its columns can stand in texts"));
    connect(choose_, &QPushButton::clicked, this, &VariablesCard::choose_table);
    auto* buttons = new QHBoxLayout;
    buttons->setSpacing(grid);
    buttons->addWidget(add_button);
    buttons->addWidget(choose_);
    buttons->addStretch();

    auto* layout = new QVBoxLayout(this);
    layout->setContentsMargins(card_inset, card_inset, card_inset, card_inset);
    layout->setSpacing(grid);
    layout->addWidget(title);
    layout->addWidget(explained_);
    layout->addLayout(list_);
    build_table(*layout);
    layout->addLayout(buttons);
    refresh();
}

void VariablesCard::build_table(QVBoxLayout& layout) {
    make_quiet(*table_name_);
    auto* remove = new QPushButton(tr("Remove"), table_row_);
    remove->setProperty("look", "link");
    remove->setCursor(Qt::PointingHandCursor);
    remove->setAccessibleName(tr("Remove the table"));
    connect(remove, &QPushButton::clicked, this, [this] {
        (void)session_.edit(tr("Remove table"), [](const job::Job& job) { return job::set_table(job, nullptr); });
    });
    auto* inside = new QHBoxLayout(table_row_);
    inside->setContentsMargins(grid, 0, grid, 0);
    inside->addWidget(table_name_, 1);
    inside->addWidget(remove);
    layout.addWidget(table_row_);
}

void VariablesCard::rebuild() {
    const auto& list = session_.job().variables.list;
    std::vector<std::size_t> kinds;
    for (const content::Variable& one : list)
        kinds.push_back(one.kind.index());
    if (kinds == kinds_) return;
    const bool one_more = kinds.size() == kinds_.size() + 1;
    kinds_ = std::move(kinds);
    for (VariableRow* row : rows_) {
        row->hide();
        row->deleteLater();
    }
    rows_.clear();
    for (std::size_t i = 0; i < list.size(); ++i) {
        auto* row = new VariableRow(session_, i, this);
        connect(row, &VariableRow::wanted, this, &VariablesCard::wanted);
        list_->addWidget(row);
        row->show();
        rows_.push_back(row);
    }
    if (one_more) rows_.back()->set_unfolded(true);
}

void VariablesCard::refresh() {
    rebuild();
    for (VariableRow* row : rows_)
        row->refresh();
    const auto& variables = session_.job().variables;
    explained_->setVisible(variables.empty());
    table_row_->setVisible(variables.table != nullptr);
    choose_->setText(variables.table ? tr("Another table …") : tr("Table …"));
    if (variables.table) {
        const auto rows = static_cast<int>(variables.table->rows());
        table_name_->set_text((rows == 1 ? tr("%1 · 1 row") : tr("%1 · %2 rows").arg(QStringLiteral("%1")).arg(rows))
                                  .arg(text(variables.table->name())));
    }
}

void VariablesCard::add(std::string_view kind) {
    const content::VariableKindRow* row = content::find_variable_kind(kind);
    content::Variable made{content::free_name(session_.job().variables, row->name), row->standard};
    const auto& table = session_.job().variables.table;
    if (auto* column = std::get_if<content::Column>(&made.kind); column && table)
        column->title = table->columns().front();
    const Status done = session_.edit(
        tr("Add variable"), [made = std::move(made)](const job::Job& job) { return job::add_variable(job, made); });
    if (!done) return emit failed(done.error());
    emit grown();
}

void VariablesCard::choose_table() {
    const QString file =
        QFileDialog::getOpenFileName(this, tr("Choose a table"), {}, tr("Tables (*.csv *.txt *.tsv);;All files (*)"));
    if (file.isEmpty()) return;
    auto table = content::Table::read_file(file.toStdString());
    if (!table) return emit failed(table.error());
    (void)session_.edit(tr("Table"), [table = *table](const job::Job& job) { return job::set_table(job, table); });
}

} // namespace touchmark::panels
