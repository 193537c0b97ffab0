// Checks the tasks of the handout. Without it the answers can still be opened.
"use strict";
(() => {
  const tasks = [...document.querySelectorAll("[data-task]")];
  const score = document.querySelector("[data-score]");
  const outcomes = new Map(); // the first answer counts
  const show = () => {
    const right = [...outcomes.values()].filter(Boolean).length;
    score.textContent = `Your score: ${right} right of ${outcomes.size} answered, of ${tasks.length} tasks.`;
  };
  for (const task of tasks) {
    const button = task.querySelector("button");
    const said = task.querySelector("[role=status]");
    const answer = task.querySelector("details");
    answer.hidden = true;
    button.hidden = false;
    button.addEventListener("click", () => {
      const chosen = task.querySelector("input:checked");
      if (!chosen) {
        said.textContent = "Choose one first.";
        return;
      }
      const right = chosen.value === task.dataset.task;
      if (!outcomes.has(task)) outcomes.set(task, right);
      said.textContent = right ? "Right." : "Not so.";
      answer.hidden = false;
      answer.open = true;
      show();
    });
  }
})();
