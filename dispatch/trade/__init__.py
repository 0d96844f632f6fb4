"""The trade, computed: sun, air, film, cure, labour and the windows they leave."""
