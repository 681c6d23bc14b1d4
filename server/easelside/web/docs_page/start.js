window.addEventListener("DOMContentLoaded", () => {
  SwaggerUIBundle({ url: "/api/openapi.json", dom_id: "#interface", deepLinking: true, validatorUrl: null });
});
