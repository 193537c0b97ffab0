// Plays before and after one after the other. Without it both players still work by themselves. The report runs it at
// once; the chairside page calls it for each comparison that it shows.
"use strict";
window.wirePlayback = (root) => {
  const button = root.querySelector("[data-alternate]");
  const sounds = ["before", "after"].map((side) => root.querySelector(`audio[data-side="${side}"]`));
  if (!button || sounds.some((sound) => !sound)) return;
  const words = button.textContent;
  let turn = -1; // which side plays; -1: none
  const show = () => {
    button.textContent = turn < 0 ? words : `${sounds[turn].getAttribute("aria-label")} plays. Stop`;
    sounds.forEach((sound, i) => sound.closest(".player").classList.toggle("playing", i === turn));
  };
  const stop = () => {
    turn = -1;
    sounds.forEach((sound) => sound.pause());
    show();
  };
  const play = (next) => {
    turn = next;
    sounds[next].currentTime = 0;
    sounds[next].play().catch(stop);
    show();
  };
  sounds.forEach((sound, i) => sound.addEventListener("ended", () => {
    if (turn === i) (i === 0 ? play(1) : stop());
  }));
  button.addEventListener("click", () => (turn < 0 ? play(0) : stop()));
  button.hidden = false;
};
if (document.body.classList.contains("report")) window.wirePlayback(document);
