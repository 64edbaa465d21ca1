/* A history in the words of the window: as pawl_history_describe() has it, and what stands on the chart, translated. Pure. */
#pragma once

#include "history/pawl-run-chart.h"

G_BEGIN_DECLS

/* Texts live as long as the program. */
PawlRunChartWords pawl_history_words_of_chart (void);
/* (transfer full) */
char             *pawl_history_words_describe (const PawlHistory *history, char decimal_mark);

G_END_DECLS
