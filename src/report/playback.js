// One player of our own in place of each audio element's controls, and one button that plays before and after in turn.
// Without it the browser's own controls still work. The report runs it at once; the chairside page calls it for what it shows.
"use strict";
(() => {
  const clock = (seconds) => (Number.isFinite(seconds) ? `${Math.floor(seconds / 60)}:${String(Math.floor(seconds % 60)).padStart(2, "0")}` : "0:00");

  const player = (sound) => {
    const name = sound.getAttribute("aria-label") ?? "sound";
    const box = document.createElement("div");
    box.className = "own-player";
    const button = document.createElement("button");
    button.type = "button";
    button.className = "play";
    const place = document.createElement("input");
    Object.assign(place, { type: "range", min: "0", max: "1000", value: "0" });
    place.setAttribute("aria-label", `Place in ${name}`);
    const time = document.createElement("span");
    time.className = "time";
    box.append(button, place, time);
    const show = () => {
      const playing = !sound.paused && !sound.ended;
      button.textContent = playing ? "Stop" : "Play";
      button.setAttribute("aria-label", `${playing ? "Stop" : "Play"} ${name}`);
      box.classList.toggle("playing", playing);
    };
    const tick = () => {
      const whole = sound.duration;
      place.value = String(whole > 0 ? Math.round((1000 * sound.currentTime) / whole) : 0);
      place.setAttribute("aria-valuetext", `${clock(sound.currentTime)} of ${clock(whole)}`);
      time.textContent = `${clock(sound.currentTime)} / ${clock(whole)}`;
    };
    button.addEventListener("click", () => {
      if (!sound.paused) return sound.pause();
      for (const other of document.querySelectorAll("audio")) if (other !== sound) other.pause();
      if (sound.ended) sound.currentTime = 0;
      sound.play().catch(show);
    });
    place.addEventListener("input", () => {
      if (sound.duration > 0) sound.currentTime = (Number(place.value) / 1000) * sound.duration;
    });
    for (const name of ["play", "pause", "ended", "emptied"]) sound.addEventListener(name, show);
    for (const name of ["timeupdate", "loadedmetadata", "durationchange", "emptied", "seeked"]) sound.addEventListener(name, tick);
    sound.removeAttribute("controls");
    sound.after(box);
    show();
    tick();
  };

  const inTurn = (root) => {
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

  window.wirePlayback = (root) => {
    root.querySelectorAll("audio[controls]").forEach(player);
    inTurn(root);
  };
})();
if (document.body.classList.contains("report")) window.wirePlayback(document);
