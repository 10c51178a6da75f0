"""What a picture or a video says of itself: Exif, containers, dates, places."""
